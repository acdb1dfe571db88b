using StateWatch.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>The contract over SQLite files.</summary>
public sealed class SqliteHistoryTests : WatchHistoryContract, IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    private protected override IWatchHistory Open() => new SqliteHistory(new HistoryOptions(_folder.PathOf("history")) { KeepDays = 90, LeastFreeMegabytes = 0 }, TimeProvider.System);

    private protected override HistoryReader Read() => HistoryFolder.Open(_folder.PathOf("history"));

    private protected override void Run(string sql)
    {
        using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={Path.Combine(_folder.PathOf("history"), SqliteHistory.FindingsFile)};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Written in the tests.
        command.CommandText = sql;
#pragma warning restore CA2100
        Assert.True(command.ExecuteNonQuery() > 0);
    }
}
