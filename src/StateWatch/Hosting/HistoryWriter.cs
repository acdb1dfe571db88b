using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Hosting;

/// <summary>
/// The one thread that stores: takes what loops have put into their slots, commits it in one transaction, and says so. What cannot be stored is kept and
/// stored later; its alerts are handed on at once, as not recorded.
/// </summary>
internal sealed class HistoryWriter : IDisposable
{
    /// <summary>How long a commit waits for more to come.</summary>
    public static readonly TimeSpan Gather = TimeSpan.FromMilliseconds(20);

    /// <summary>The id of the finding that nothing can be stored.</summary>
    public const string FindingId = "history-failing:store";

    private static readonly TimeSpan BetweenTries = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BetweenTidyings = TimeSpan.FromHours(1);

    private readonly IWatchHistory _history;
    private readonly ISelfReport _self;
    private readonly ILogger _log;
    private readonly TimeProvider _clock;
    private readonly List<OutputSlot> _slots = [];
    private readonly List<Func<WatchOutput?>> _sources = [];
    private readonly Dictionary<string, WatchOutput> _kept = new(StringComparer.Ordinal);
    private readonly AutoResetEvent _work = new(false);
    private readonly ManualResetEventSlim _stop = new();
    private readonly Thread _thread;
    private DateTimeOffset? _failingSince;
    private bool _isFailing;
    private long _tidied;
    private long _commits;
    private long _failures;

    public HistoryWriter(IWatchHistory history, ISelfReport self, ILogger log, TimeProvider clock)
    {
        (_history, _self, _log, _clock) = (history, self, log, clock);
        _tidied = clock.GetTimestamp();
        _thread = new Thread(Run) { IsBackground = true, Name = "history" };
    }

    /// <summary>Called on the writer's thread with what was stored.</summary>
    public Action<IReadOnlyList<WatchOutput>>? Stored { get; set; }

    /// <summary>Called on the writer's thread with alerts that are not in the outbox, because it cannot be written.</summary>
    public Action<IReadOnlyList<Alert>>? NotRecorded { get; set; }

    /// <summary>Transactions so far.</summary>
    public long Commits => Volatile.Read(ref _commits);

    /// <summary>Transactions that failed so far.</summary>
    public long Failures => Volatile.Read(ref _failures);

    /// <summary>Whether the last one failed.</summary>
    public bool IsFailing => Volatile.Read(ref _isFailing);

    /// <summary>A place for the outputs of one desk. Before <see cref="Start"/>.</summary>
    public OutputSlot AddSlot(string desk)
    {
        var slot = new OutputSlot(desk, () => _work.Set());
        _slots.Add(slot);
        return slot;
    }

    /// <summary>Something that has no loop of its own and whose outputs are taken before each commit. Before <see cref="Start"/>.</summary>
    public void AddSource(Func<WatchOutput?> take) => _sources.Add(take);

    /// <summary>Says that there is something to take.</summary>
    public void Wake() => _work.Set();

    /// <summary>What is stored of a desk; null when nothing is, or when it cannot be read, which is told.</summary>
    public StoredDesk? Load(string desk)
    {
        try
        {
            return _history.Load(desk);
        }
        catch (HistoryException problem)
        {
            _log.NotRemembered(desk, problem.Message);
            _self.Report($"history-failing:{desk[(desk.IndexOf('/', StringComparison.Ordinal) + 1)..]}", Severity.Warning, new AlertWords("history-failing", $"what is remembered of {desk} cannot be read: {problem.Message}",
                "Findings of before are raised anew; acknowledgements and holds are gone.", "Look at the disk; after the show look whether the history can be mended from its backup."));
            return null;
        }
    }

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

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
        _work.Dispose();
        _stop.Dispose();
    }

    private void Run()
    {
        while (!_stop.IsSet)
        {
            _work.WaitOne(BetweenTries);
            _stop.Wait(_failingSince is null ? Gather : BetweenTries);
            Store();
            Tidy();
            foreach (var notice in _history.TakeNotices())
                _log.HistoryNotice(notice);
        }

        Store();
    }

    /// <summary>Stores what there is, once.</summary>
    internal void Store()
    {
        foreach (var slot in _slots)
            Take(slot.Take());
        foreach (var take in _sources)
            Take(take());

        if (_kept.Count == 0)
            return;
        WatchOutput[] outputs = [.. _kept.Values];
        try
        {
            _history.Commit(outputs);
        }
        catch (HistoryException problem)
        {
            Keep(outputs, problem);
            return;
        }

        Interlocked.Increment(ref _commits);
        _kept.Clear();
        if (_failingSince is { } since)
        {
            _failingSince = null;
            Volatile.Write(ref _isFailing, false);
            _log.StoredAgain(since);
            _self.Clear(FindingId);
        }

        Stored?.Invoke(outputs);
    }

    private void Take(WatchOutput? output)
    {
        if (output is not null)
            _kept[output.Desk] = _kept.TryGetValue(output.Desk, out var older) ? WatchMerge.Join(older, output) : output;
    }

    private void Keep(WatchOutput[] outputs, HistoryException problem)
    {
        Interlocked.Increment(ref _failures);
        Alert[] alerts = [.. outputs.SelectMany(static output => output.Alerts)];
        foreach (var output in outputs)
            _kept[output.Desk] = output with { Alerts = [] };
        if (_failingSince is null)
        {
            _failingSince = _clock.GetUtcNow();
            Volatile.Write(ref _isFailing, true);
            _log.NotStored(problem.Message);
            _self.Report(FindingId, Severity.Urgent, new AlertWords("history-failing", $"nothing can be stored in {_history.Place}: {problem.Message}",
                "What happens is watched and told, but a restart would forget it.", "Make room on the disk, or give its folder back to the user of the watch; what is kept in memory is stored then."));
        }

        if (alerts.Length > 0)
            NotRecorded?.Invoke(alerts);
    }

    private void Tidy()
    {
        if (_clock.GetElapsedTime(_tidied) < BetweenTidyings)
            return;
        _tidied = _clock.GetTimestamp();
        try
        {
            if (_history.Tidy(_clock.GetUtcNow()) is { Length: > 0 } what)
                _log.Tidied(what);
        }
        catch (HistoryException problem)
        {
            _log.NotStored(problem.Message);
        }
    }
}
