using StateWatch.Core.Documents;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>What a line about margins speaks of.</summary>
public enum MarginKind : byte
{
    /// <summary>All microphones that are open now, together.</summary>
    Now,

    /// <summary>One microphone alone, as it will be when somebody opens it.</summary>
    Microphone,

    /// <summary>All pairs, coupled or not: how much the largest gain rose above plan.</summary>
    Rise,

    /// <summary>How many microphones are open at a loudspeaker.</summary>
    Open,
}

/// <summary>A setting that would win back margin when it is put back, and by how much.</summary>
/// <param name="Setting">Its path.</param>
/// <param name="To">The value.</param>
/// <param name="By">dB.</param>
public sealed record WinBack(string Setting, string To, double By);

/// <summary>
/// One line about margins. Advice from a model that knows only the desk: a cupped grille, a hat, somebody before the loudspeakers or an
/// amplifier knob changes a margin by 10 dB unseen.
/// </summary>
/// <param name="Kind">What it speaks of.</param>
public sealed record LoopMargin(MarginKind Kind)
{
    /// <summary>The microphone's strip, or null.</summary>
    public string? Microphone { get; init; }

    /// <summary>The microphone in words, or null.</summary>
    public string? MicrophoneName { get; init; }

    /// <summary>The loudspeaker, or null: <c>wedges 3</c>.</summary>
    public string? Loudspeaker { get; init; }

    /// <summary>Where the coupling is from: <c>measured</c>, <c>estimate</c>, or null when none is used.</summary>
    public string? Source { get; init; }

    /// <summary>Power margin in dB, +inf without a loop; null when it does not apply or cannot be told.</summary>
    public double? Margin { get; init; }

    /// <summary>The same with the plan's values.</summary>
    public double? Planned { get; init; }

    /// <summary>By how many dB it is nearer to feedback than planned (positive), 0 or less when it is not.</summary>
    public double? Closer { get; init; }

    /// <summary>The margin if all ways happened to add in phase, in dB.</summary>
    public double? InPhase { get; init; }

    /// <summary>How far the margin may be off, in dB: 3 for a measured coupling, 10 for an estimate.</summary>
    public double? Spread { get; init; }

    /// <summary>How many equally loud microphones would be as many as are open, or null.</summary>
    public double? OpenMicrophones { get; init; }

    /// <summary>How many the plan allows, or null.</summary>
    public int? MostOpen { get; init; }

    /// <summary>The gain that distances allow before feedback with as many microphones open as now, in dB; null where the plan gives no distances.</summary>
    public double? PotentialGain { get; init; }

    /// <summary>The gain that the farthest listener needs, in dB; null likewise.</summary>
    public double? NeededGain { get; init; }

    /// <summary>The one setting that wins back most, or null.</summary>
    public WinBack? WinBack { get; init; }

    /// <summary>Why the coupling is no longer trusted, or null.</summary>
    public string? Stale { get; init; }

    /// <summary>The plan line of the coupling, or null.</summary>
    public Origin? At { get; init; }
}
