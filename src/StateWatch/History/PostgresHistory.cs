using System.Data.Common;
using System.Net.Sockets;
using System.Text.Json;
using Npgsql;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// The history on a PostgreSQL server, for many sites at once: each watch keeps what it must not forget under its own desk keys and sends what waits for its
/// own site. Any thread may call it; one is served at a time. The server is asked first when something is first needed, and anew after a fault.
/// </summary>
internal sealed class PostgresHistory : IWatchHistory
{
    private readonly Lock _gate = new();
    private readonly NpgsqlDataSource _source;
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
        try
        {
            var builder = new NpgsqlSlimDataSourceBuilder(connection);
            builder.EnableTransportSecurity();
            var settings = builder.ConnectionStringBuilder;
            settings.Pooling = false;
            settings.Enlist = false;
            settings.ApplicationName ??= "statewatch";
            Place = $"{settings.Host}:{settings.Port}/{settings.Database}";
            _source = builder.Build();
        }
        catch (Exception problem) when (problem is ArgumentException or FormatException or NotSupportedException or InvalidOperationException)
        {
            throw new HistoryException($"The connection to PostgreSQL cannot be understood: {problem.Message.TrimEnd('.')}. Write it like 'Host=db.example;Database=statewatch;Username=watch'.", problem);
        }
    }

    public string Place { get; }

    public IReadOnlyList<string> TakeNotices() => _notices.Take();

    public StoredDesk? Load(string desk) => Work(session => FindingTables.Load(session, desk, _notices.Add));

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

    public int Coalesce(string sink, int most) => Transact(session => Outbox.Coalesce(session, _site, sink, most));

    public string Tidy(DateTimeOffset now)
    {
        var before = Columns.Of(now) - (_limits.KeepDays * TimeSpan.TicksPerDay);
        var removed = Transact(session =>
        {
            session.Send();
            var rows = 0;
            foreach (var (table, where) in Retention.Observations.Concat(Retention.Journals))
            {
                session.Run($"DELETE FROM {table} WHERE at < $1 AND desk LIKE $2 AND {where}", before, Like(_site) + "/%");
                rows += session.Send();
            }

            return rows;
        });
        return $"History: {(removed == 0 ? "nothing had to be removed" : $"{removed:N0} rows older than {_limits.KeepDays} days were removed")}.";
    }

    public void Dispose()
    {
        lock (_gate)
        {
            Close();
            _source.Dispose();
        }
    }

    /// <summary>Opens it to read; the caller ends what is returned.</summary>
    public HistoryReader Read()
    {
        lock (_gate)
        {
            var session = Open();
            return new HistoryReader(Place, session, session);
        }
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
            catch (Exception problem) when (problem is DbException or SocketException or IOException or TimeoutException or InvalidOperationException or JsonException or InvalidCastException)
            {
                Close();
                throw Fault(problem);
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
        var session = new PostgresSession(_source.OpenConnection());
        try
        {
            PostgresSchema.Prepare(session, Place, _notices.Add);
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
        catch (Exception problem) when (problem is DbException or SocketException or IOException or InvalidOperationException)
        {
            _notices.Add($"The broken connection to {Place} could not be closed in order: {problem.Message}");
        }
    }

    private HistoryException Fault(Exception problem)
    {
        var (why, remedy) = problem switch
        {
            PostgresException { SqlState: "53100" } => ("the server's disk is full", "Free space there."),
            PostgresException { SqlState: "25006" } => ("the server takes nothing at the moment (read-only)", "Give the address of the server that takes writes."),
            PostgresException { SqlState: "28P01" or "28000" } => ("the server does not know this user or password", "Check user and password."),
            PostgresException { SqlState: "3D000" } => ("there is no such database", "Make it on the server, or give the name of another one."),
            PostgresException { SqlState: "42501" } => ("this user may not do that", "Give the user the right to make and change tables in its schema."),
            PostgresException => ("the server refuses", "Look at the server's log."),
            _ => ("it does not answer", "Check that the server runs and that the network reaches it."),
        };
        return new HistoryException($"The history at {Place} cannot be used: {why}. {remedy} It is tried again with the next thing to store. ({problem.Message.TrimEnd('.')})", problem);
    }
}
