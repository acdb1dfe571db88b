using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// The history as sinks use it: nobody waits for it longer than a moment. A disk or server that hangs is a history that cannot be used, so that a sink goes on with
/// what is in memory. What was begun goes on by itself, and until it is done nothing else is asked of the history.
/// </summary>
/// <param name="inner">The history; disposed of by its owner.</param>
/// <param name="patience">How long to wait; 2 s by default.</param>
internal sealed class PatientHistory(IWatchHistory inner, TimeSpan? patience = null) : IWatchHistory
{
    private readonly TimeSpan _patience = patience ?? TimeSpan.FromSeconds(2);
    private volatile Task? _overdue;

    public string Place => inner.Place;

    public IReadOnlyList<string> TakeNotices() => inner.TakeNotices();

    public StoredDesk? Load(string desk) => Within(() => inner.Load(desk));

    public void Commit(IReadOnlyList<WatchOutput> outputs) => inner.Commit(outputs);

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most) => Within(() => inner.Waiting(sink, most));

    public int CountWaiting(string sink) => Within(() => inner.CountWaiting(sink));

    public void Delivered(string sink, IReadOnlyList<long> rows) => Within(() =>
    {
        inner.Delivered(sink, rows);
        return 0;
    });

    public void Refused(string sink, IReadOnlyList<long> rows) => Within(() =>
    {
        inner.Refused(sink, rows);
        return 0;
    });

    public int Coalesce(string sink, int most) => Within(() => inner.Coalesce(sink, most));

    public string Tidy(DateTimeOffset now, bool isClockTrusted) => inner.Tidy(now, isClockTrusted);

    public void Dispose()
    {
    }

    private T Within<T>(Func<T> work)
    {
        if (_overdue is { IsCompleted: false })
            throw Hangs();
        var task = Task.Run(work);
        try
        {
            if (task.Wait(_patience))
                return task.Result;
        }
        catch (AggregateException problem) when (problem.InnerException is HistoryException known)
        {
            throw new HistoryException(known.Message, known.InnerException);
        }

        _overdue = task;
        // Whatever becomes of it, somebody has looked at it.
        _ = task.ContinueWith(static late => late.Exception, TaskScheduler.Default);
        throw Hangs();
    }

    private HistoryException Hangs() => new($"The history {inner.Place} does not answer. Look at its disk or server; it is tried again.");
}
