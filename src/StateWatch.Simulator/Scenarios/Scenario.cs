using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Scenarios;

/// <summary>A day in virtual time: what happens, and what a watch must then tell.</summary>
/// <param name="Say">What it is, in plain words.</param>
/// <param name="Begins">When it begins, by the clock where the show is.</param>
/// <param name="Ends">When it ends.</param>
/// <param name="Phase">The phase to begin with; null for the plan's own.</param>
/// <param name="Seed">Decides what is left to chance.</param>
/// <param name="Happenings">What happens, in order of time.</param>
/// <param name="Told">What must be told.</param>
/// <param name="OthersAtMost">How many other things may be told.</param>
/// <param name="OthersWithin">In any span so long.</param>
public sealed record Scenario(string Say, DateTime Begins, DateTime Ends, Phase? Phase, ulong Seed, IReadOnlyList<Happening> Happenings,
    IReadOnlyList<ToldLine> Told, int OthersAtMost, TimeSpan OthersWithin);

/// <summary>Something that happens.</summary>
/// <param name="At">When, by the clock where the show is.</param>
/// <param name="Say">What somebody did, in plain words; may be empty.</param>
/// <param name="Place">Where it is written.</param>
public sealed record Happening(DateTime At, string Say, Origin Place)
{
    /// <summary>Settings with their new values.</summary>
    public IReadOnlyList<(int Setting, SettingValue Value)> Set { get; init; } = [];

    /// <summary>A cue of the plan that the desk recalls, <c>none</c> for the plan without one; null for neither.</summary>
    public string? Recall { get; init; }

    /// <summary>How long the levels glide; everything else changes at once, as in a recall with a fade.</summary>
    public TimeSpan Over { get; init; }

    /// <summary>Settings that get the values back that they had when the scenario began.</summary>
    public IReadOnlyList<int> PutBack { get; init; } = [];

    /// <summary>Hands that ride levels from now on, for a while; null when none do.</summary>
    public Riding? Ride { get; init; }

    /// <summary>How long the desk answers nothing; zero when it goes on.</summary>
    public TimeSpan Silent { get; init; }

    /// <summary>A phase that somebody begins; null for none.</summary>
    public Phase? Phase { get; init; }

    /// <summary>A cue that somebody begins; <c>none</c> ends the one there is; null for neither.</summary>
    public string? Cue { get; init; }

    /// <summary>A finding that somebody says they know of; null for none.</summary>
    public string? Acknowledge { get; init; }

    /// <summary>A finding that somebody puts aside for half an hour; null for none.</summary>
    public string? PutAside { get; init; }
}

/// <summary>Hands that ride levels.</summary>
/// <param name="Settings">The levels.</param>
/// <param name="PerMinute">How many moves a minute.</param>
/// <param name="Within">How far from where each stood they go, in dB.</param>
/// <param name="For">For how long.</param>
public sealed record Riding(IReadOnlyList<int> Settings, int PerMinute, double Within, TimeSpan For);

/// <summary>Something that must be told. Each time is the earliest at which it may be; null when it need not be told.</summary>
/// <param name="Finding"><c>rule:subject</c>, or <see cref="ScenarioReader.Digest"/>.</param>
/// <param name="Within">How much later than each time it may be.</param>
/// <param name="Place">Where it is written.</param>
public sealed record ToldLine(string Finding, TimeSpan Within, Origin Place)
{
    /// <summary>That something is wrong, or comes and goes.</summary>
    public DateTime? Raised { get; init; }

    /// <summary>That somebody knows of it.</summary>
    public DateTime? Known { get; init; }

    /// <summary>That it is put aside.</summary>
    public DateTime? PutAside { get; init; }

    /// <summary>That it is over.</summary>
    public DateTime? Cleared { get; init; }
}
