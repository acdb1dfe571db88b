using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>
/// Everything that came about at one watched desk since the last of these, to be stored in one transaction; only then is anything of it sent.
/// </summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Ledger">What the ledger remembers besides its findings, of this moment.</param>
/// <param name="Standing">Phase, cue and baseline, of this moment.</param>
public sealed record WatchOutput(string Desk, LedgerState Ledger, ShowStanding Standing)
{
    /// <summary>Findings that differ from when they were last handed over; a quiet one (<see cref="FindingRecord.IsQuiet"/>) may be forgotten.</summary>
    public IReadOnlyList<StoredFinding> Findings { get; init; } = [];

    /// <summary>The journal of findings, in order.</summary>
    public IReadOnlyList<LedgerEvent> Events { get; init; } = [];

    /// <summary>What is to be told to sinks, in order: the outbox.</summary>
    public IReadOnlyList<Alert> Alerts { get; init; } = [];

    /// <summary>The journal of settings: what changed on the desk, planned or not.</summary>
    public IReadOnlyList<SettingChange> Changes { get; init; } = [];

    /// <summary>The journal of the show and of the watch itself.</summary>
    public IReadOnlyList<ShowEvent> Happenings { get; init; } = [];

    /// <summary>How much of the plan was seen.</summary>
    public IReadOnlyList<CoverageSample> Coverage { get; init; } = [];

    /// <summary>Whether nothing is worth a transaction.</summary>
    public bool IsEmpty => Findings.Count + Events.Count + Alerts.Count + Changes.Count + Happenings.Count + Coverage.Count == 0;
}

/// <summary>What is stored of one desk, from which a watch goes on.</summary>
/// <param name="Ledger">The ledger's state and findings.</param>
/// <param name="Standing">Phase, cue and baseline.</param>
/// <param name="Words">What was last said of the findings that stand, by key.</param>
public sealed record StoredDesk(LedgerRecord Ledger, ShowStanding Standing, IReadOnlyDictionary<string, AlertWords> Words);

/// <summary>One finding as it is stored.</summary>
/// <param name="Record">Where it stands.</param>
/// <param name="Words">What was last said of it; null before anything was.</param>
public sealed record StoredFinding(FindingRecord Record, AlertWords? Words);

/// <summary>Where the day stands at one desk.</summary>
/// <param name="Show">The show's name.</param>
/// <param name="Phase">The phase.</param>
/// <param name="Cue">The cue, or null.</param>
/// <param name="Since">When phase or cue last changed.</param>
/// <param name="Plan">Fingerprint of plan and profile (SHA-256, hexadecimal).</param>
public sealed record ShowStanding(string Show, Phase Phase, string? Cue, DateTimeOffset Since, string Plan)
{
    /// <summary>Levels at the end of the phase from which guards measure; empty before it.</summary>
    public IReadOnlyList<BaselineLevel> Baseline { get; init; } = [];

    /// <summary>When they were taken; null when there are none, or when nobody knows.</summary>
    public DateTimeOffset? BaselineAt { get; init; }

    /// <summary>Whether the phase ended while the desk could not be seen, so that they are taken as soon as it was read.</summary>
    public bool AwaitsBaseline { get; init; }
}

/// <summary>How loud a source was at a feed at the end of the phase from which guards measure.</summary>
/// <param name="Feed">The feed or buses, as the guard's line names them.</param>
/// <param name="Source">Path of the source's strip.</param>
/// <param name="Level">Gain from the source's socket to there, in dB; -infinity when it did not arrive.</param>
public readonly record struct BaselineLevel(string Feed, string Source, double Level);

/// <summary>Something for one sink, with the words of the moment.</summary>
/// <param name="Told">What and to whom; its id is the same however often it is sent.</param>
/// <param name="Show">The show's name.</param>
/// <param name="Phase">The phase.</param>
/// <param name="Cue">The cue, or null.</param>
public sealed record Alert(Announcement Told, string Show, Phase Phase, string? Cue)
{
    /// <summary>What people are told of it; of what is cleared, what they were told when it was raised. Null for a digest.</summary>
    public AlertWords? Words { get; init; }

    /// <summary>Of a digest: the words of its lines, in its order.</summary>
    public IReadOnlyList<AlertWords?> DigestWords { get; init; } = [];
}

/// <summary>What people are told of one finding.</summary>
/// <param name="Rule">The rule's id.</param>
/// <param name="Text">What is wrong, in one line.</param>
/// <param name="Why">What it does to the show.</param>
/// <param name="Do">What to do.</param>
public sealed record AlertWords(string Rule, string Text, string Why, string Do)
{
    /// <summary>Path of the strip, or null.</summary>
    public string? Strip { get; init; }

    /// <summary>Planned name of the strip, or null. It may be a person's.</summary>
    public string? Name { get; init; }

    /// <summary>Path of the setting, or null.</summary>
    public string? Setting { get; init; }

    /// <summary>What was planned, canonical, or null.</summary>
    public string? Planned { get; init; }

    /// <summary>What the desk had when it was told, canonical, or null.</summary>
    public string? Live { get; init; }

    /// <summary>The plan line (<c>file:line:column</c>), or null.</summary>
    public string? PlanAt { get; init; }
}

/// <summary>A setting of the desk that has another value than before. What moves on and on is told from time to time, with its latest value.</summary>
/// <param name="At">When the last of it came in.</param>
/// <param name="Setting">Its path.</param>
/// <param name="Before">Canonical value before; null when it was not known.</param>
/// <param name="After">Canonical value now; null when it is no longer known.</param>
/// <param name="Planned">Whether the plan says something of it.</param>
public readonly record struct SettingChange(DateTimeOffset At, string Setting, string? Before, string? After, bool Planned);

/// <summary>What happened to the show, or to the watch of one desk.</summary>
public enum ShowEventKind : byte
{
    /// <summary>The watch of the desk began; the text names plan and profile.</summary>
    WatchBegan,

    /// <summary>The watch of the desk ended in order.</summary>
    WatchEnded,

    /// <summary>A phase began; the text is its word.</summary>
    PhaseBegan,

    /// <summary>A cue began; the text is its name.</summary>
    CueBegan,

    /// <summary>The cue ended and the plan of the phase holds again; the text is its name.</summary>
    CueEnded,

    /// <summary>The plan was read anew and holds from now on.</summary>
    PlanReloaded,

    /// <summary>A plan could not be taken; the one before goes on. The text says why.</summary>
    PlanRefused,

    /// <summary>The desk answers: a session began.</summary>
    SessionBegan,

    /// <summary>The desk was read whole; the text says how many questions stayed unanswered.</summary>
    ReadEnded,

    /// <summary>The desk fell silent.</summary>
    DeskSilent,

    /// <summary>Another desk answers.</summary>
    AnotherDesk,

    /// <summary>The desk no longer says what changes.</summary>
    SubscriptionLost,

    /// <summary>Everything or a part is read again; the text says what asked for it.</summary>
    ReadAgain,

    /// <summary>Levels from which guards measure were taken.</summary>
    BaselineTaken,

    /// <summary>There are no levels from which guards could measure, so they measure from the plan; the text says why.</summary>
    BaselineMissed,
}

/// <summary>A line of the journal of the show.</summary>
/// <param name="At">When.</param>
/// <param name="Show">Name of the show then.</param>
/// <param name="Phase">The phase from then on.</param>
/// <param name="Kind">What.</param>
/// <param name="Text">Which one, or why; may be empty.</param>
/// <param name="By">Who or what brought it about: a name, <c>schedule</c>, <c>message</c>; null for the desk itself.</param>
public sealed record ShowEvent(DateTimeOffset At, string Show, Phase Phase, ShowEventKind Kind, string Text, string? By = null);

/// <summary>How much of the plan was seen at one moment.</summary>
/// <param name="At">When.</param>
/// <param name="Planned">Settings the plan speaks of.</param>
/// <param name="Verified">Those of them with a fresh value.</param>
/// <param name="CannotTell">Checks that could not be judged.</param>
public readonly record struct CoverageSample(DateTimeOffset At, int Planned, int Verified, int CannotTell);
