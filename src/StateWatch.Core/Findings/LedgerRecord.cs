namespace StateWatch.Core.Findings;

/// <summary>Everything a ledger remembers, to be stored by somebody else. Times are on the monotonic clock of the run that wrote it.</summary>
/// <param name="Ledger">What does not belong to one finding.</param>
/// <param name="Findings">The findings, by key; quiet ones may be left out.</param>
public sealed record LedgerRecord(LedgerState Ledger, IReadOnlyList<FindingRecord> Findings);

/// <summary>What a ledger remembers besides its findings; to be stored with every change, since its moment gives the times of all records their meaning.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="At">The moment of writing.</param>
public sealed record LedgerState(string Desk, Moment At)
{
    /// <summary>The session that counted.</summary>
    public long Session { get; init; }

    /// <summary>Whether the link stood.</summary>
    public bool IsLinked { get; init; }

    /// <summary>Whether the watch had just started.</summary>
    public bool IsSettling { get; init; }

    /// <summary>Whether what checks say counted.</summary>
    public bool IsViewFresh { get; init; }

    /// <summary>When waiting for a full read would have ended.</summary>
    public TimeSpan? Deadline { get; init; }

    /// <summary>When the last full read was done.</summary>
    public TimeSpan? ReadAt { get; init; }

    /// <summary>When the gather that was open would have ended.</summary>
    public TimeSpan? GatherEnds { get; init; }

    /// <summary>Until when whatever goes off plan would have joined the bulk change.</summary>
    public TimeSpan? BulkWindowEnds { get; init; }

    /// <summary>Number of the last digest.</summary>
    public int Digests { get; init; }

    /// <summary>Time of day at which the event ends.</summary>
    public DateTimeOffset? EventEnds { get; init; }

    /// <summary>Expected changes.</summary>
    public IReadOnlyList<ExpectedWindow> Windows { get; init; } = [];

    /// <summary>When sinks were to be told of what came and went.</summary>
    public IReadOnlyList<DigestTime> DigestsDue { get; init; } = [];

    /// <summary>Sinks that took nothing.</summary>
    public IReadOnlyList<string> LostSinks { get; init; } = [];
}

/// <summary>When a sink is told of what came and went.</summary>
/// <param name="Sink">Its name.</param>
/// <param name="Due">On the monotonic clock.</param>
public readonly record struct DigestTime(string Sink, TimeSpan Due);
