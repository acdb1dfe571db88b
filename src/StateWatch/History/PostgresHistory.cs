using System.Text.Json;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// The history on a PostgreSQL server, for many sites at once: each watch keeps what it must not forget under its own desk keys and sends what waits for its
/// own site. Any thread may call it; one is served at a time. The server is asked first when something is first needed, and anew after a fault.
/// </summary>
internal sealed class PostgresHistory : IWatchHistory
{
    // How long the end waits for what is being done.
    private static readonly TimeSpan AtTheEnd = TimeSpan.FromSeconds(2);

    private readonly Lock _gate = new();
    private readonly PostgresServerPlace _server;
    private readonly string _site;
    private readonly HistoryOptions _limits;
    private readonly TimeProvider _clock;
    private readonly HistoryNotices _notices = new();
    private readonly PostgresDoubt _doubt = new();
    private PostgresSession? _session;

    /// <summary>A history; the server is asked when it is first needed.</summary>
    /// <param name="connection">What Npgsql calls a connection string. Its password is never shown.</param>
    /// <param name="site">The site of the desks.</param>
    /// <param name="limits">How many days are kept; size and disk are the server's own business.</param>
    /// <param name="clock">The time of day.</param>
    /// <exception cref="HistoryException">The connection string or the limits make no sense.</exception>
    public PostgresHistory(string connection, string site, HistoryOptions limits, TimeProvider clock)
    {
        if (limits.Fault is { } fault)
            throw new HistoryException(fault);
        (_site, _limits, _clock) = (site, limits, clock);
        _server = new PostgresServerPlace(connection);
    }

    public string Place => _server.Place;

    public IReadOnlyList<string> TakeNotices() => _notices.Take();

    public StoredDesk? Load(string desk) => Work(session => FindingMemory.Load(session, desk, _notices.Add));

    public void Commit(IReadOnlyList<WatchOutput> outputs)
    {
        if (outputs.Count == 0)
            return;
        Work(session =>
        {
            var fresh = _doubt.Resolve(session, outputs);
            session.Begin();
            _doubt.Mark(session, _site);
            foreach (var output in fresh)
            {
                FindingTables.Write(session, output, _clock.GetUtcNow());
                ObservationTables.Write(session, output);
            }

            session.Send();
            _doubt.Begin(fresh);
            session.Commit();
            _doubt.End();
            return 0;
        });
    }

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most) => Work(session => Outbox.Waiting(session, _site, sink, most, _notices.Add));

    public int CountWaiting(string sink) => Work(session => Outbox.CountWaiting(session, _site, sink));

    public void Delivered(string sink, IReadOnlyList<long> rows) => Transact(session =>
    {
        Outbox.Taken(session, sink, rows);
        return 0;
    });

    public void Refused(string sink, IReadOnlyList<long> rows) => Transact(session =>
    {
        Outbox.Refused(session, sink, rows);
        return 0;
    });

    public int Coalesce(string sink, int most) => Transact(session => Outbox.Coalesce(session, _site, sink, most));

    public string Tidy(DateTimeOffset now, bool isClockTrusted)
    {
        if (!isClockTrusted)
            return Retention.NotByAge;
        var before = Columns.Of(now) - (_limits.KeepDays * TimeSpan.TicksPerDay);
        var removed = 0L;
        foreach (var (table, where) in Retention.Observations.Concat(Retention.Journals))
        {
            for (var rows = Retention.Step; rows >= Retention.Step; removed += rows)
                rows = Transact(session => RemoveSome(session, table, where, before));
        }

        return $"History: {(removed == 0 ? "nothing had to be removed" : $"{removed:N0} rows older than {_limits.KeepDays} days were removed")}.";
    }

    public void Dispose()
    {
        // Whoever waits for a server that hangs has it; then the end of the process closes the connection.
        if (!_gate.TryEnter(AtTheEnd))
            return;
        try
        {
            Close();
            _server.Dispose();
        }
        finally
        {
            _gate.Exit();
        }
    }

    // A step at a time, each with a transaction of its own, so that commits go on between them and none takes longer than a statement may.
    private int RemoveSome(PostgresSession session, string table, string where, long before)
    {
        session.Send();
        session.Run($"DELETE FROM {table} WHERE ctid IN (SELECT ctid FROM {table} WHERE at < $1 AND desk LIKE $2 AND {where} LIMIT {Retention.Step})", before, Like(_site) + "/%");
        return session.Send();
    }

    private static string Like(string text) => text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("%", "\\%", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal);

    private T Transact<T>(Func<PostgresSession, T> work) => Work(session =>
    {
        session.Begin();
        var result = work(session);
        session.Commit();
        return result;
    });

    private T Work<T>(Func<PostgresSession, T> work)
    {
        lock (_gate)
        {
            try
            {
                _session ??= Open();
                var result = work(_session);
                _session.Send();
                return result;
            }
            catch (Exception problem) when (PostgresServerPlace.IsFault(problem) || problem is JsonException or InvalidCastException)
            {
                Close();
                throw _server.Fault(problem);
            }
            catch
            {
                Close();
                throw;
            }
        }
    }

    private PostgresSession Open()
    {
        var session = new PostgresSession(_server.Connect());
        try
        {
            PostgresSchema.Prepare(session, Place, _notices.Add);
            PostgresSiteLock.Take(session, _site, Place);
            return session;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }

    // What was begun and not committed is undone by closing, and closing a connection that is broken may fail too.
    private void Close()
    {
        var session = _session;
        _session = null;
        try
        {
            session?.Dispose();
        }
        catch (Exception problem) when (PostgresServerPlace.IsFault(problem))
        {
            _notices.Add($"The broken connection to {Place} could not be closed in order: {problem.Message}");
        }
    }
}
