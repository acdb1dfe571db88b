using Microsoft.Data.Sqlite;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// The history in two SQLite files of one folder: <c>findings.db</c>, whose commits survive a power cut, and <c>observations.db</c>, whose last moments
/// may not. Any thread may call it; one is served at a time. Nothing is opened before it is needed, and after a fault it is tried again.
/// </summary>
internal sealed class SqliteHistory : IWatchHistory
{
    public const string FindingsFile = "findings.db";
    public const string ObservationsFile = "observations.db";
    public const string LockFile = "watch.lock";

    // What only changes settings moves a desk's ledger forward no more often than this: a fader that is ridden is no reason to write through the disk's cache.
    private static readonly TimeSpan LedgerAtLeastEvery = TimeSpan.FromSeconds(1);

    // Findings must not wait again and again for a file that somebody else has locked.
    private static readonly TimeSpan BetweenTries = TimeSpan.FromSeconds(5);

    // How long the end waits for what is being done.
    private static readonly TimeSpan AtTheEnd = TimeSpan.FromSeconds(2);

    private readonly Lock _gate = new();
    private readonly HistoryOptions _options;
    private readonly TimeProvider _clock;
    private readonly SqliteFile _findings;
    private readonly SqliteFile _observations;
    private readonly HistoryNotices _notices = new();
    private readonly Dictionary<string, TimeSpan> _written = new(StringComparer.Ordinal);
    private readonly Retention _retention;
    private long? _blindSince;
    private long _missed;

    /// <summary>A history; its files are opened when they are first used.</summary>
    /// <param name="options">Where, and how much is kept.</param>
    /// <param name="clock">The time of day.</param>
    /// <param name="freeBytes">How much of the folder's disk is free; by default asks the system.</param>
    /// <param name="opened">Called with each connection that was opened.</param>
    /// <exception cref="HistoryException">The options make no sense.</exception>
    public SqliteHistory(HistoryOptions options, TimeProvider clock, Func<string, long>? freeBytes = null, Action<SqliteConnection>? opened = null)
    {
        if (options.Fault is { } fault)
            throw new HistoryException(fault);
        _options = options;
        _clock = clock;
        _findings = new SqliteFile(Path.Combine(options.Folder, FindingsFile), FindingSchema.Migrations, "FULL", clock, _notices.Add) { Opened = opened, Salvage = Salvage.Into, Lock = Path.Combine(options.Folder, LockFile) };
        _observations = new SqliteFile(Path.Combine(options.Folder, ObservationsFile), ObservationSchema.Migrations, "NORMAL", clock, _notices.Add) { Opened = opened };
        _retention = new Retention(_findings, _observations, _gate, options, freeBytes ?? Retention.FreeBytes);
    }

    public string Place => _options.Folder;

    public IReadOnlyList<string> TakeNotices() => _notices.Take();

    public StoredDesk? Load(string desk)
    {
        lock (_gate)
        {
            try
            {
                return _findings.Work(session => FindingMemory.Load(session, desk, _notices.Add));
            }
            catch (HistoryException problem) when (problem.InnerException is not null)
            {
                return LoadToRead(desk, problem);
            }
        }
    }

    public void Commit(IReadOnlyList<WatchOutput> outputs)
    {
        lock (_gate)
        {
            var weighty = outputs.Where(MustReachFindings).ToList();
            if (weighty.Count > 0)
            {
                _findings.Transact(session =>
                {
                    foreach (var output in weighty)
                        FindingTables.Write(session, output, _clock.GetUtcNow());
                    return 0;
                });
                foreach (var output in weighty)
                    _written[output.Desk] = output.Ledger.At.Clock;
            }

            Observe(outputs);
        }
    }

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most)
    {
        lock (_gate)
            return _findings.Work(session => Outbox.Waiting(session, null, sink, most, _notices.Add));
    }

    public int CountWaiting(string sink)
    {
        lock (_gate)
            return _findings.Work(session => Outbox.CountWaiting(session, null, sink));
    }

    public void Delivered(string sink, IReadOnlyList<long> rows)
    {
        lock (_gate)
        {
            _findings.Transact(session =>
            {
                Outbox.Taken(session, sink, rows);
                return 0;
            });
        }
    }

    public void Refused(string sink, IReadOnlyList<long> rows)
    {
        lock (_gate)
        {
            _findings.Transact(session =>
            {
                Outbox.Refused(session, sink, rows);
                return 0;
            });
        }
    }

    public int Coalesce(string sink, int most)
    {
        lock (_gate)
            return _findings.Transact(session => Outbox.Coalesce(session, null, sink, most));
    }

    public string Tidy(DateTimeOffset now, bool isClockTrusted) => _retention.Tidy(now, isClockTrusted);

    public void Dispose()
    {
        // Whoever hangs in the disk has it; then the end of the process closes the files.
        if (!_gate.TryEnter(AtTheEnd))
            return;
        try
        {
            _findings.Dispose();
            _observations.Dispose();
        }
        finally
        {
            _gate.Exit();
        }
    }

    // A disk that takes nothing may still be read, and a watch that begins without its memory would number its alerts from 1 again.
    private StoredDesk? LoadToRead(string desk, HistoryException problem)
    {
        try
        {
            using var session = HistoryFolder.OpenFile(_findings.Path, FindingSchema.Migrations.Count);
            return FindingMemory.Load(session, desk, _notices.Add);
        }
        catch (Exception other) when (other is HistoryException or SqliteException or System.Text.Json.JsonException)
        {
            throw problem;
        }
    }

    private bool MustReachFindings(WatchOutput output) =>
        output.Findings.Count + output.Events.Count + output.Alerts.Count + output.Happenings.Count > 0
        || !_written.TryGetValue(output.Desk, out var written) || output.Ledger.At.Clock < written || output.Ledger.At.Clock - written >= LedgerAtLeastEvery;

    // What is committed above must not be committed again, so a fault here is told and not thrown.
    private void Observe(IReadOnlyList<WatchOutput> outputs)
    {
        var changes = outputs.Sum(static output => output.Changes.Count);
        var samples = outputs.Sum(static output => output.Coverage.Count);
        if (changes + samples == 0)
            return;
        if (_blindSince is { } since && _clock.GetElapsedTime(since) < BetweenTries)
        {
            _missed += changes;
            return;
        }

        try
        {
            _observations.Transact(session =>
            {
                foreach (var output in outputs)
                    ObservationTables.Write(session, output);
                return 0;
            });
            if (_blindSince is not null)
                _notices.Add($"Changes of settings are recorded again; {_missed:N0} were lost.");
            (_blindSince, _missed) = (null, 0);
        }
        catch (HistoryException problem)
        {
            if (_blindSince is null)
                _notices.Add($"Changes of settings are not recorded; findings are. {problem.Message}");
            _blindSince = _clock.GetTimestamp();
            _missed += changes;
        }
    }
}
