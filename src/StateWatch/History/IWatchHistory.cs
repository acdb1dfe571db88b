using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// Where a watch keeps what it must not forget. One writer at a time; a commit is on the disk when it returns. Everything may throw
/// <see cref="HistoryException"/>: then nothing of that commit was kept, and watching goes on.
/// </summary>
internal interface IWatchHistory : IDisposable
{
    /// <summary>Where it is, for messages.</summary>
    string Place { get; }

    /// <summary>
    /// What people should know of the history since this was last called, and nobody asked for: a damaged file that was moved aside, a form that was renewed,
    /// changes of settings that could not be recorded. One line each.
    /// </summary>
    IReadOnlyList<string> TakeNotices() => [];

    /// <summary>What is stored of a desk; null when nothing is.</summary>
    StoredDesk? Load(string desk);

    /// <summary>
    /// Stores journal, findings and outbox of these outputs in one transaction. Changes of settings and coverage may be stored apart and with less care; when
    /// they alone cannot be, that is a notice. An output that holds nothing else may leave the stored moment of the ledger up to a second behind.
    /// </summary>
    void Commit(IReadOnlyList<WatchOutput> outputs);

    /// <summary>What waits for a sink, oldest first.</summary>
    IReadOnlyList<WaitingAlert> Waiting(string sink, int most);

    /// <summary>How much waits for a sink.</summary>
    int CountWaiting(string sink);

    /// <summary>Notes in one transaction that a sink has taken these.</summary>
    void Delivered(string sink, IReadOnlyList<long> rows);

    /// <summary>Notes in one transaction that a sink refuses these: they wait no more, and were not taken.</summary>
    void Refused(string sink, IReadOnlyList<long> rows);

    /// <summary>
    /// Throws away all but the newest of each finding that wait for a sink, when more wait than may, and leaves a gap marker; then, while that is not
    /// enough, the oldest digests.
    /// </summary>
    /// <returns>How many were thrown away.</returns>
    int Coalesce(string sink, int most);

    /// <summary>Removes what is older or larger than it may be, and says what it did. It works in small steps, and what is called meanwhile from other threads does not wait for all of them.</summary>
    /// <param name="now">The time of day.</param>
    /// <param name="isClockTrusted">Whether that can be trusted; else nothing is removed for its age.</param>
    string Tidy(DateTimeOffset now, bool isClockTrusted);
}

/// <summary>One row of the outbox.</summary>
/// <param name="Row">Its number, rising.</param>
/// <param name="Alert">What is to be sent.</param>
/// <param name="Gap">How many older ones of this finding were thrown away before it.</param>
internal readonly record struct WaitingAlert(long Row, Alert Alert, int Gap)
{
    /// <summary>When it was committed; null where that is not kept.</summary>
    public DateTimeOffset? RecordedAt { get; init; }

    /// <summary>0 for a row of the outbox. Else it is in memory only, because the history could not be written: this is its place among those sent between that row and the next.</summary>
    public int Unrecorded { get; init; }
}

/// <summary>The history could not be read or written.</summary>
/// <param name="what">What could not be done, where, why, and what to do.</param>
/// <param name="inner">The cause.</param>
internal sealed class HistoryException(string what, Exception? inner = null) : Exception(what, inner)
{
    /// <summary>Whether the disk is full.</summary>
    public bool IsFull { get; init; }
}
