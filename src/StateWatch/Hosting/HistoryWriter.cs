using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Hosting;

/// <summary>
/// The one thread that stores: takes what loops have put into their slots, commits it in one transaction, and says so. What cannot be stored is kept and
/// stored later; its alerts are handed on at once, as not recorded. So are those that a commit holds up that does not come back.
/// </summary>
internal sealed class HistoryWriter : IDisposable
{
    /// <summary>How long a commit waits for more to come.</summary>
    public static readonly TimeSpan Gather = TimeSpan.FromMilliseconds(20);

    /// <summary>How long a commit may take; then it counts as failing.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>The id of the finding that nothing can be stored.</summary>
    public const string FindingId = "history-failing:store";

    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(1);

    private readonly IWatchHistory _history;
    private readonly ISelfReport _self;
    private readonly ILogger _log;
    private readonly TimeProvider _clock;
    private readonly Lock _gate = new();
    private readonly OutputIntake _intake = new();
    private readonly StorePace _pace;
    private readonly AutoResetEvent _work = new(false);
    private readonly ManualResetEventSlim _stop = new();
    private readonly Thread _thread;
    private WatchOutput[] _flying = [];
    private long? _busySince;
    private DateTimeOffset? _failingSince;
    private bool _isFailing;
    private long _commits;
    private long _failures;

    public HistoryWriter(IWatchHistory history, ISelfReport self, ILogger log, TimeProvider clock)
    {
        (_history, _self, _log, _clock) = (history, self, log, clock);
        _pace = new StorePace(clock);
        Memories = new DeskMemories(history, self, log, clock);
        _thread = new Thread(Run) { IsBackground = true, Name = "history" };
    }

    /// <summary>What is stored of each desk; read before <see cref="AddSlot"/>.</summary>
    public DeskMemories Memories { get; }

    /// <summary>Called with what was stored, on the writer's thread.</summary>
    public Action<IReadOnlyList<WatchOutput>>? Stored { get; set; }

    /// <summary>Called with alerts that are not in the outbox, because it cannot be written; on any thread, and must not wait.</summary>
    public Action<IReadOnlyList<Alert>>? NotRecorded { get; set; }

    /// <summary>Called on the writer's thread when the disk is full.</summary>
    public Action? Full { get; set; }

    /// <summary>Transactions so far.</summary>
    public long Commits => Volatile.Read(ref _commits);

    /// <summary>Transactions that failed so far.</summary>
    public long Failures => Volatile.Read(ref _failures);

    /// <summary>Whether the last one failed or does not come back, or what is stored of a desk could not be read, so that nothing of it is stored.</summary>
    public bool IsFailing => Volatile.Read(ref _isFailing) || Memories.HasUnread;

    /// <summary>A place for the outputs of one desk. Before <see cref="Start"/>.</summary>
    public OutputSlot AddSlot(string desk) => Add(new OutputSlot(desk, () => _work.Set()), null);

    /// <summary>Something that has no loop of its own and whose outputs are taken before each commit. Before <see cref="Start"/>.</summary>
    public OutputSlot AddSource(string desk, Func<WatchOutput?> take) => Add(new OutputSlot(desk, static () => { }), take);

    /// <summary>Says that there is something to take.</summary>
    public void Wake() => _work.Set();

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

    /// <summary>Looks whether storing hangs; call it about once a second, from another thread. Then alerts go on without it, and that is told.</summary>
    public void Look()
    {
        double seconds;
        lock (_gate)
        {
            var busy = _busySince is { } since ? _clock.GetElapsedTime(since) : TimeSpan.Zero;
            if (busy < Patience)
                return;
            seconds = Math.Round(busy.TotalSeconds, 1);
            var isKnown = _failingSince is not null;
            BeginFailing(_flying);
            Collect();
            if (isKnown)
                return;
        }

        _log.StoringHangs(_history.Place, seconds);
        Tell($"storing in {_history.Place} has not come back for {seconds:0} s", "Look at the disk or the server of the history; do not restart the watch before that works, for it would forget what it keeps.");
    }

    /// <summary>Stores what is left, once the loops have ended.</summary>
    /// <returns>Whether it ended in time.</returns>
    public bool Stop(TimeSpan patience)
    {
        _stop.Set();
        _work.Set();
        return !_thread.IsAlive || _thread.Join(patience);
    }

    /// <summary>After <see cref="Stop"/>.</summary>
    public void Dispose()
    {
        // A thread that hangs in the system still has them.
        if (_thread.IsAlive)
            return;
        _work.Dispose();
        _stop.Dispose();
    }

    private OutputSlot Add(OutputSlot slot, Func<WatchOutput?>? take)
    {
        if (Memories.IsUnread(slot.Desk))
            slot.BeginUnread();
        _intake.Add(slot, take);
        return slot;
    }

    private void Run()
    {
        while (!_stop.IsSet)
        {
            _work.WaitOne(BetweenLooks);
            _stop.Wait(Gather);
            Guarded(Round, BetweenLooks);
        }

        Guarded(Store, TimeSpan.Zero);
    }

    private void Guarded(Action what, TimeSpan pause)
    {
        try
        {
            what();
        }
#pragma warning disable CA1031 // Whatever it is, no desk's watch may end because of it.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            _log.WriterFailed(problem);
            _stop.Wait(pause);
        }
    }

    /// <summary>What the thread does again and again.</summary>
    internal void Round()
    {
        if (Memories.IsDue)
            Busily([], Memories.TryAgain);
        if (_failingSince is null || _pace.IsDue)
        {
            Store();
        }
        else
        {
            // Alerts do not wait for the next try.
            lock (_gate)
                Collect();
        }

        foreach (var notice in _history.TakeNotices())
            _log.HistoryNotice(notice);
    }

    /// <summary>Stores what there is, once.</summary>
    internal void Store()
    {
        WatchOutput[] outputs;
        lock (_gate)
        {
            Collect();
            outputs = _intake.TakeAll();
        }

        if (outputs.Length == 0)
            return;
        try
        {
            Busily(outputs, () => _history.Commit(outputs));
        }
#pragma warning disable CA1031 // What was not stored is kept, whatever kept it from being stored.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            Keep(outputs, problem);
            return;
        }

        Interlocked.Increment(ref _commits);
        _pace.Succeed();
        DateTimeOffset? failed;
        lock (_gate)
        {
            (failed, _failingSince) = (_failingSince, null);
            Volatile.Write(ref _isFailing, false);
        }

        if (failed is { } since)
        {
            _log.StoredAgain(since);
            _self.Clear(FindingId);
        }

        Stored?.Invoke(outputs);
    }

    private void Busily(WatchOutput[] outputs, Action what)
    {
        lock (_gate)
            (_flying, _busySince) = (outputs, _clock.GetTimestamp());
        try
        {
            what();
        }
        finally
        {
            lock (_gate)
                _busySince = null;
        }
    }

    // With the gate held.
    private void Collect()
    {
        _intake.Collect(_failingSince is not null);
        if (_intake.TakeUnrecorded() is { Length: > 0 } alerts)
            NotRecorded?.Invoke(alerts);
    }

    private void Keep(WatchOutput[] outputs, Exception problem)
    {
        Interlocked.Increment(ref _failures);
        _pace.Fail();
        bool isKnown;
        lock (_gate)
        {
            isKnown = _failingSince is not null;
            BeginFailing(outputs);
            _intake.PutBack(outputs);
            Collect();
        }

        if (problem is HistoryException { IsFull: true })
            Full?.Invoke();
        if (isKnown)
            return;
        var what = problem is HistoryException ? problem.Message : $"the program has a fault ({problem.GetType().Name}); please report it with the log of this time";
        if (problem is not HistoryException)
            _log.WriterFailed(problem);
        _log.NotStored(what);
        Tell($"nothing can be stored in {_history.Place}: {what}", "Make room on the disk, or give its folder back to the user of the watch; what is kept in memory is stored then.");
    }

    // With the gate held. Alerts of what is stored while it fails were told before.
    private void BeginFailing(WatchOutput[] outputs)
    {
        if (_failingSince is not null)
            return;
        foreach (var output in outputs)
            _intake.Release(output);
        _failingSince = _clock.GetUtcNow();
        Volatile.Write(ref _isFailing, true);
    }

    private void Tell(string text, string advice) =>
        _self.Report(FindingId, Severity.Urgent, new AlertWords("history-failing", text, "What happens is watched and told, but a restart would forget it.", advice));
}
