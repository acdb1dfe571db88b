using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>One cue as written: what is open, what is closed, and what differs from the plan while it lasts.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Open">Names of what must be open: inputs, roles, groups, effects.</param>
/// <param name="Closed">Names of what must be closed.</param>
/// <param name="Effects"><c>muted</c> or <c>open</c>: what all effect returns are; null when the cue does not say.</param>
/// <param name="Settings">Settings that hold at this cue only.</param>
/// <param name="Inputs">Lines of inputs that hold at this cue only.</param>
/// <param name="Settle">How long the desk may take to get there; only a watch waits for it.</param>
public sealed record CueLine(ScalarNode Key, IReadOnlyList<ScalarNode> Open, IReadOnlyList<ScalarNode> Closed, ScalarNode? Effects,
    IReadOnlyList<MapEntry> Settings, IReadOnlyList<StripLine> Inputs, TimeSpan Settle)
{
    /// <summary>How long a desk may take when the cue does not say.</summary>
    public static readonly TimeSpan DefaultSettle = TimeSpan.FromSeconds(5);

    /// <summary>The OSC message that calls it, or null.</summary>
    public MessageLine? Message { get; init; }

    /// <summary>Settings that are left to the eye at this cue.</summary>
    public IReadOnlyList<ByEyeSetting> ByEyeSettings { get; init; } = [];
}
