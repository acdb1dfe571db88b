using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>How one watched desk stands at one moment; a copy that anybody may read.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="At">The moment.</param>
/// <param name="Show">The show's name.</param>
/// <param name="Phase">The phase.</param>
/// <param name="Cue">The cue, or null.</param>
/// <param name="Since">When phase or cue last changed.</param>
public sealed record DeskStatus(string Desk, Moment At, string Show, Phase Phase, string? Cue, DateTimeOffset Since)
{
    /// <summary>Where the desk is.</summary>
    public string Address { get; init; } = "";

    /// <summary>Where following stands.</summary>
    public FollowPhase Following { get; init; }

    /// <summary>Number of the session; 0 before the first.</summary>
    public int Session { get; init; }

    /// <summary>Since when nothing that the profile knows was heard.</summary>
    public TimeSpan SilentFor { get; init; }

    /// <summary>How old the last full read is; null before the first.</summary>
    public TimeSpan? ReadAgo { get; init; }

    /// <summary>Settings the plan speaks of, those with a fresh value, and checks that could not be judged.</summary>
    public CoverageSample Coverage { get; init; }

    /// <summary>Findings that stand, worst first: raised, held or latched.</summary>
    public IReadOnlyList<StoredFinding> Standing { get; init; } = [];

    /// <summary>When the phase will change by schedule, and to which; null when it will not.</summary>
    public (DateTimeOffset At, Phase Phase)? Next { get; init; }

    /// <summary>Names of the cues that the plan has.</summary>
    public IReadOnlyList<string> Cues { get; init; } = [];

    /// <summary>What the link saw.</summary>
    public LinkCounters Link { get; init; }

    /// <summary>What following has cost.</summary>
    public FollowCounters Follow { get; init; }

    /// <summary>Datagrams of the desk that could not be decoded.</summary>
    public long Undecodable { get; init; }
}
