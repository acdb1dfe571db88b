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
}
