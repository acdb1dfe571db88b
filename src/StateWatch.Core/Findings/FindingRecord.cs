using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Everything that is remembered of one finding, to be shown or stored. Times are on the monotonic clock of the run that wrote it.</summary>
/// <param name="Key">site/desk/rule:subject.</param>
public sealed record FindingRecord(string Key)
{
    /// <summary>Its check, or what its check was when a plan last had it.</summary>
    public required WatchedCheck Check { get; init; }

    /// <summary>What is known of its subject.</summary>
    public Evidence Evidence { get; init; }

    /// <summary>Why that is not fresh.</summary>
    public StaleReason StaleReason { get; init; }

    /// <summary>What its check said last since the view was lost.</summary>
    public Reading Reading { get; init; }

    /// <summary>The last drift, remembered through what is not known.</summary>
    public Reading LastDrift { get; init; }

    /// <summary>Where it stands.</summary>
    public Condition Condition { get; init; }

    /// <summary>Since when it is off plan, or clearing, with fresh evidence.</summary>
    public TimeSpan Since { get; init; }

    /// <summary>Fresh drift before that, since it went off plan.</summary>
    public TimeSpan Accumulated { get; init; }

    /// <summary>Since when it weighs less than is told, with fresh evidence; null when it does not.</summary>
    public TimeSpan? LesserSince { get; init; }

    /// <summary>When it last went off plan.</summary>
    public TimeSpan PendingAt { get; init; }

    /// <summary>When the last episode was closed; null while one is open or before the first.</summary>
    public TimeSpan? ClosedAt { get; init; }

    /// <summary>Why the last episode was closed.</summary>
    public CloseReason ClosedFor { get; init; }

    /// <summary>Time of day at which the episode was raised.</summary>
    public DateTimeOffset? RaisedAt { get; init; }

    /// <summary>Number of the episode; 0 before the first.</summary>
    public int Episode { get; init; }

    /// <summary>How often the episode came back.</summary>
    public int Relapses { get; init; }

    /// <summary>How much it matters, or mattered when it was raised last.</summary>
    public Severity Severity { get; init; }

    /// <summary>Whether it is over and waits to be acknowledged.</summary>
    public bool IsLatched { get; init; }

    /// <summary>Whether somebody knows.</summary>
    public Attention Attention => Acknowledgement is null ? Attention.Unacked : Attention.Acked;

    /// <summary>Who knows; null when nobody does.</summary>
    public Acknowledgement? Acknowledgement { get; init; }

    /// <summary>What keeps it from being told.</summary>
    public Holds Holds { get; init; }

    /// <summary>Who put it aside; null when nobody did, or when that could not be read: then it is not aside.</summary>
    public HoldOrder? Shelf { get; init; }

    /// <summary>Who took it out of service.</summary>
    public HoldOrder? OutOfService { get; init; }

    /// <summary>Raises and relapses, halved with time, as of <see cref="RestlessAt"/>.</summary>
    public double Restlessness { get; init; }

    /// <summary>When it was last raised or relapsed.</summary>
    public TimeSpan RestlessAt { get; init; }

    /// <summary>When it was damped.</summary>
    public TimeSpan DampedAt { get; init; }

    /// <summary>When it is looked at whether it has come to rest.</summary>
    public TimeSpan NextLook { get; init; }

    /// <summary>Since when nothing changed.</summary>
    public TimeSpan SteadySince { get; init; }

    /// <summary>What is wanted to be told.</summary>
    public Level Level { get; init; }

    /// <summary>Number of the transition with which the level's episode began.</summary>
    public int FirstTransition { get; init; }

    /// <summary>What each sink knows.</summary>
    public IReadOnlyList<SinkRecord> Sinks { get; init; } = [];

    /// <summary>Whether it waits for the gather in which it went off plan.</summary>
    public bool IsGathering { get; init; }

    /// <summary>Whether it counts as having gone off plan of late.</summary>
    public bool IsRecent { get; init; }

    /// <summary>Whether no plan has it any more.</summary>
    public bool IsRetired { get; init; }

    /// <summary>Whether nothing ever happened to it that a restart must know of: it need not be stored, and what is stored of it may be removed.</summary>
    public bool IsQuiet => Condition == Condition.Normal && Episode == 0 && (Holds & ~Holds.Settling) == Holds.None;
}

/// <summary>What one sink knows of one finding.</summary>
/// <param name="Sink">Its name.</param>
/// <param name="Offered">What was handed over for it last.</param>
/// <param name="Told">What it has taken last.</param>
/// <param name="Passed">Episodes that came and went without its being told, for the next digest.</param>
/// <param name="PassedEpisode">The last of them.</param>
/// <param name="PassedSeverity">How much that one mattered.</param>
public readonly record struct SinkRecord(string Sink, Level Offered, Level Told, int Passed, int PassedEpisode, Severity PassedSeverity);
