using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Everything that is remembered of one key; times are on the monotonic clock.</summary>
internal sealed class TrackedFinding(string key, WatchedCheck check, FindingOrigin origin)
{
    public string Key { get; } = key;

    public FindingOrigin Origin { get; } = origin;

    public WatchedCheck Check { get; set; } = check;

    /// <summary>Its number among the checks that are watched, while it is one.</summary>
    public int Number { get; set; }

    /// <summary>No plan has it any more; it stays until every sink that was told has been told otherwise.</summary>
    public bool IsRetired { get; set; }

    public Evidence Evidence { get; set; }
    public StaleReason StaleReason { get; set; }

    /// <summary>What was handed in last since the view was lost.</summary>
    public Reading Reading { get; set; }

    /// <summary>The last drift; remembered through what is not known.</summary>
    public Reading LastDrift { get; set; }

    public Condition Condition { get; set; }

    /// <summary>Since when it is off plan, or clearing, with fresh evidence.</summary>
    public TimeSpan Since { get; set; }

    /// <summary>Fresh drift before <see cref="Since"/>, since it went off plan.</summary>
    public TimeSpan Accumulated { get; set; }

    /// <summary>Whether it was noticed that fresh drift adds up to what people do for more than a moment.</summary>
    public bool HasLasted { get; set; }

    /// <summary>Since when it weighs less than is told, with fresh evidence; null when it does not.</summary>
    public TimeSpan? LesserSince { get; set; }

    public TimeSpan PendingAt { get; set; }
    public TimeSpan? ClosedAt { get; set; }
    public CloseReason ClosedFor { get; set; }
    public DateTimeOffset? RaisedAt { get; set; }
    public int Episode { get; set; }
    public int Relapses { get; set; }
    public Severity Severity { get; set; }
    public bool IsLatched { get; set; }
    public Acknowledgement? Acknowledgement { get; set; }
    public Holds Holds { get; set; }
    public HoldOrder? Shelf { get; set; }
    public HoldOrder? OutOfService { get; set; }

    public double Restlessness { get; set; }
    public TimeSpan RestlessAt { get; set; }
    public TimeSpan DampedAt { get; set; }
    public TimeSpan NextLook { get; set; }
    public TimeSpan SteadySince { get; set; }

    public Level Level { get; set; }

    /// <summary>Transition with which the level's episode began.</summary>
    public int FirstTransition { get; set; }

    public SinkStanding[] Sinks { get; set; } = [];

    /// <summary>It went off plan in the gather that is open; nothing of it is told before that is over.</summary>
    public bool IsGathering { get; set; }

    /// <summary>It is among those that went off plan of late.</summary>
    public bool IsRecent { get; set; }

    // For the moment only.
    public bool IsTouched { get; set; }
    public bool IsChanged { get; set; }
    public bool WasStored { get; set; }
    public bool IsBusy { get; set; }
    public bool IsReminderDue { get; set; }
    public bool GoesIntoDigest { get; set; }

    public Attention Attention => Acknowledgement is null ? Attention.Unacked : Attention.Acked;

    /// <summary>The next moment at which time alone changes something; the maximum when it never does.</summary>
    public TimeSpan Due
    {
        get
        {
            var due = TimeSpan.MaxValue;
            if (Evidence == Evidence.Fresh && Condition == Condition.Pending)
                due = Since + Check.OnDelay - Accumulated;
            else if (Evidence == Evidence.Fresh && Condition == Condition.Clearing)
                due = Since + Check.OffDelay;
            if (Evidence == Evidence.Fresh && LesserSince is { } lesser)
                due = lesser + Check.OffDelay;
            if (Evidence == Evidence.Fresh && IsDrifting && !HasLasted && LastDrift.Lasting > LastDrift.Severity)
                due = Earlier(due, Since + LedgerNumbers.MomentaryFor - Accumulated);
            due = Earlier(due, Acknowledgement?.Until);
            due = Earlier(due, Shelf?.Until);
            due = Earlier(due, OutOfService?.Until);
            return Earlier(due, (Holds & Holds.Damped) != Holds.None ? NextLook : null);
        }
    }

    private bool IsDrifting => Condition is Condition.Pending or Condition.Active;

    /// <summary>Fresh drift since it went off plan, as of a time.</summary>
    public TimeSpan DriftedFor(TimeSpan now) => Accumulated + (Evidence == Evidence.Fresh && IsDrifting ? now - Since : TimeSpan.Zero);

    /// <summary>How much the last drift matters, as of a time.</summary>
    public Severity WeightAt(TimeSpan now) =>
        LastDrift.Lasting > LastDrift.Severity && DriftedFor(now) >= LedgerNumbers.MomentaryFor ? LastDrift.Lasting : LastDrift.Severity;

    private static TimeSpan Earlier(TimeSpan one, TimeSpan? other) => other is { } value && value < one ? value : one;
}

/// <summary>Where a finding comes from.</summary>
internal enum FindingOrigin : byte
{
    /// <summary>A check of the plan.</summary>
    Check,

    /// <summary>The watch itself: how much it sees. It settles for nothing and is inhibited by nothing.</summary>
    Watch,

    /// <summary>The root of a bulk change.</summary>
    Bulk,
}

/// <summary>What one sink knows of one finding.</summary>
internal struct SinkStanding
{
    /// <summary>What was handed over for it last.</summary>
    public Level Offered;

    /// <summary>What it has taken last.</summary>
    public Level Told;

    /// <summary>Episodes that came and went without its being told.</summary>
    public int Passed;

    /// <summary>The last of them.</summary>
    public int PassedEpisode;

    /// <summary>How much that one mattered.</summary>
    public Severity PassedSeverity;
}
