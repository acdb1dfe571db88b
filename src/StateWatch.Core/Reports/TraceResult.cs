using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>Where the settings of a trace came from.</summary>
public enum TraceOrigin
{
    /// <summary>From the plan, over a desk after a reset; no desk was asked.</summary>
    Plan,

    /// <summary>From a virtual desk.</summary>
    VirtualDesk,

    /// <summary>From the desk.</summary>
    Desk,
}

/// <summary>What is traced where.</summary>
/// <param name="Plan">The compiled plan.</param>
/// <param name="Origin">Where settings come from.</param>
/// <param name="DeskAddress">Where the desk is, or null when none was asked.</param>
/// <param name="At">When the trace began.</param>
public sealed record TraceSubject(ShowPlan Plan, TraceOrigin Origin, string? DeskAddress, DateTimeOffset At);

/// <summary>Where a trace begins: a strip, or a talk circuit.</summary>
/// <param name="Name">Planned name, or the path in words.</param>
/// <param name="Path">Path such as <c>input/25</c> or <c>talk/1</c>.</param>
/// <param name="Nodes">Its nodes in the signal flow.</param>
public sealed record TraceSource(string Name, string Path, IReadOnlyList<int> Nodes);

/// <summary>Where a trace ends: a feed, or one of its buses.</summary>
/// <param name="Key">The feed's key, with a number for one of its buses: <c>wedges 3</c>.</param>
/// <param name="Feed">The feed.</param>
/// <param name="Columns">Its columns in the signal flow.</param>
public sealed record TraceTarget(string Key, Feed Feed, IReadOnlyList<int> Columns);

/// <summary>The answer of a trace.</summary>
public enum TraceAnswer
{
    /// <summary>It arrives.</summary>
    Carried,

    /// <summary>Nothing arrives.</summary>
    Silent,

    /// <summary>A way leads through a circle that does not die away: it howls, and no level can be told.</summary>
    Unstable,

    /// <summary>A setting it depends on was not seen.</summary>
    CannotTell,
}

/// <summary>One end of a feed.</summary>
/// <param name="Place">Path of the output, or of the bus where the plan names no output.</param>
/// <param name="State">What arrives there.</param>
/// <param name="Level">Gain from the source's input socket to there, in dB; -inf when nothing arrives; not a number when unstable.</param>
public sealed record TraceLeg(string Place, PairState State, double Level);

/// <summary>Something on a way that may close or change the sound by itself and is never counted as open or closed.</summary>
/// <param name="Strip">Path of the strip.</param>
/// <param name="Setting">Path of the setting that says so.</param>
/// <param name="Words">What it is and does.</param>
public sealed record TraceCondition(string Strip, string Setting, string Words);

/// <summary>A change of one setting.</summary>
/// <param name="Setting">Setting id.</param>
/// <param name="Now">The value it has.</param>
/// <param name="Then">The value that opens the way.</param>
/// <param name="AsPlanned">Whether the plan names that value.</param>
/// <param name="PlanAt">The plan line, or null when it is silent.</param>
public sealed record TraceChange(int Setting, string Now, string Then, bool AsPlanned, string? PlanAt);

/// <summary>The smallest change that opens a way.</summary>
/// <param name="Changes">What to change.</param>
/// <param name="OpensBesides">How many other pairs of input and end of a feed it would open.</param>
/// <param name="Exact">Whether every possibility was looked at.</param>
/// <param name="Opens">Paths of the feed's ends that then carry it; the others stay shut.</param>
/// <param name="First">What to bring down before, as a sentence.</param>
public sealed record TraceOpening(IReadOnlyList<TraceChange> Changes, int OpensBesides, bool Exact, IReadOnlyList<string> Opens, string First);

/// <summary>What was found of one source and one feed.</summary>
/// <param name="From">The source.</param>
/// <param name="To">The feed.</param>
/// <param name="Answer">The answer.</param>
/// <param name="Legs">The feed's ends.</param>
/// <param name="Level">The strongest end's gain in dB; -inf when nothing arrives or nobody knows.</param>
/// <param name="Unseen">Paths of settings that a way depends on and that have no fresh value.</param>
public sealed record TracePair(TraceSource From, TraceTarget To, TraceAnswer Answer, IReadOnlyList<TraceLeg> Legs, double Level, IReadOnlyList<string> Unseen)
{
    /// <summary>Level below which something that arrives is hardly heard, without the preamp's gain: the plan language's own default for must-carry.</summary>
    public const double HardlyHeard = -60;

    /// <summary>Gain of the source's preamp in dB, a part of the level; 0 when it has none.</summary>
    public double Preamp { get; init; }

    /// <summary>Whether it arrives so low that hardly anybody hears it.</summary>
    public bool Faint => Answer == TraceAnswer.Carried && Level - Preamp < HardlyHeard;

    /// <summary>The open ways, strongest first.</summary>
    public IReadOnlyList<Way> Ways { get; init; } = [];

    /// <summary>Whether there are more ways than were looked at.</summary>
    public bool MoreWays { get; init; }

    /// <summary>Ways the plan makes that are shut, fewest stops first; only when nothing arrives.</summary>
    public IReadOnlyList<ClosedWay> ClosedWays { get; init; } = [];

    /// <summary>The smallest change that opens a way, or null when none was found that the plan allows, or something arrives.</summary>
    public TraceOpening? Opening { get; init; }

    /// <summary>What may close by itself on the open ways.</summary>
    public IReadOnlyList<TraceCondition> Conditions { get; init; } = [];

    /// <summary>Where the source takes its signal from, and where the plan says; null when they agree or nobody plans it.</summary>
    public (string Live, string Planned)? Source { get; init; }
}

/// <summary>What a trace was asked for.</summary>
public enum TraceKind
{
    /// <summary>One source at one feed.</summary>
    Pair,

    /// <summary>All feeds that a source reaches.</summary>
    Reach,

    /// <summary>All sources that feed a feed.</summary>
    Feeding,
}

/// <summary>A trace: text, JSON and exit code come from this object.</summary>
/// <param name="Subject">What was traced where.</param>
/// <param name="Map">The signal flow of its plan.</param>
/// <param name="Kind">What was asked for.</param>
/// <param name="Pairs">One pair; or of a list all that were looked at, strongest first.</param>
/// <param name="Read">How the desk was read, or null when none was.</param>
/// <param name="State">The settings it was found in.</param>
public sealed record TraceResult(TraceSubject Subject, RoutingMap Map, TraceKind Kind, IReadOnlyList<TracePair> Pairs, ReadReport? Read, DeskState State)
{
    /// <summary>Whether a desk, the right one, answered.</summary>
    public bool HasDesk => Read is null or { End: ReadEnd.Complete or ReadEnd.Partial or ReadEnd.FellSilent };

    /// <summary>The answer: of a list, whether anything is carried.</summary>
    public TraceAnswer Answer =>
        !HasDesk ? TraceAnswer.CannotTell
        : Pairs.Any(pair => pair.Answer == TraceAnswer.Unstable) ? TraceAnswer.Unstable
        : Pairs.Any(pair => pair.Answer == TraceAnswer.Carried) ? TraceAnswer.Carried
        : Pairs.Any(pair => pair.Answer == TraceAnswer.CannotTell) ? TraceAnswer.CannotTell
        : TraceAnswer.Silent;

    /// <summary>0 carried, 1 silent, 3 cannot tell or unstable. A list with something that cannot be told is not whole: 3.</summary>
    public int ExitCode => Kind != TraceKind.Pair && Pairs.Any(pair => pair.Answer == TraceAnswer.CannotTell) ? 3 : Answer switch
    {
        TraceAnswer.Carried => 0,
        TraceAnswer.Silent => 1,
        _ => 3,
    };
}
