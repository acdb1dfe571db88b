using Microsoft.Data.Sqlite;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Watches;

/// <summary>
/// A real history whose files are made to fail as SQLite itself fails: no more pages than there are (SQLITE_FULL), or no writing at all (SQLITE_READONLY).
/// Calls are served one at a time, so that the limit is set between two of them.
/// </summary>
internal sealed class LimitedDisk : IWatchHistory
{
    private readonly Lock _gate = new();
    private readonly List<SqliteConnection> _connections = [];
    private readonly SqliteHistory _inner;
    private string[] _pragmas = [];

    public LimitedDisk(HistoryOptions options) => _inner = new SqliteHistory(options, TimeProvider.System, opened: Opened);

    public string Place => _inner.Place;

    /// <summary>From now on no file grows.</summary>
    public void Fill() => Limit("PRAGMA max_page_count = 1");

    /// <summary>From now on nothing is written.</summary>
    public void MakeReadOnly() => Limit("PRAGMA query_only = 1");

    /// <summary>There is room, and leave to write.</summary>
    public void Free() => Limit("PRAGMA max_page_count = 1000000", "PRAGMA query_only = 0");

    public StoredDesk? Load(string desk) => Serve(() => _inner.Load(desk));

    public void Commit(IReadOnlyList<WatchOutput> outputs) => Serve(() =>
    {
        _inner.Commit(outputs);
        return 0;
    });

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most) => Serve(() => _inner.Waiting(sink, most));

    public int CountWaiting(string sink) => Serve(() => _inner.CountWaiting(sink));

    public void Delivered(string sink, IReadOnlyList<long> rows) => Serve(() =>
    {
        _inner.Delivered(sink, rows);
        return 0;
    });

    public void Refused(string sink, IReadOnlyList<long> rows) => Serve(() =>
    {
        _inner.Refused(sink, rows);
        return 0;
    });

    public int Coalesce(string sink, int most) => Serve(() => _inner.Coalesce(sink, most));

    public string Tidy(DateTimeOffset now, bool isClockTrusted) => Serve(() => _inner.Tidy(now, isClockTrusted));

    public IReadOnlyList<string> TakeNotices() => _inner.TakeNotices();

    public void Dispose() => Serve(() =>
    {
        _inner.Dispose();
        return 0;
    });

    private void Limit(params string[] pragmas) => Serve(() =>
    {
        _pragmas = pragmas;
        _connections.RemoveAll(static connection => connection.State != System.Data.ConnectionState.Open);
        foreach (var connection in _connections)
            Run(connection);
        return 0;
    });

    private T Serve<T>(Func<T> call)
    {
        lock (_gate)
            return call();
    }

    private void Opened(SqliteConnection connection)
    {
        _connections.Add(connection);
        Run(connection);
    }

    // Less than there is means as much as there is (sqlite.org/pragma.html, max_page_count).
    private void Run(SqliteConnection connection)
    {
        foreach (var pragma in _pragmas)
        {
            using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Written in this file.
            command.CommandText = pragma;
#pragma warning restore CA2100
            command.ExecuteNonQuery();
        }
    }
}
