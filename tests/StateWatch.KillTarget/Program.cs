using StateWatch.History;
using StateWatch.KillTarget;

// Commits in a storm until it is killed, and says on standard output what is on the disk: "committed 17" only after the commit has returned.
using var history = new SqliteHistory(new HistoryOptions(args[0]) { LeastFreeMegabytes = 0 }, TimeProvider.System);
var storm = new CommitStorm(history.Load(CommitStorm.Desk));
for (; ; )
{
    history.Commit([storm.Next()]);
    Console.Out.WriteLine($"committed {storm.Commits}");
    Console.Out.Flush();
    if (storm.Commits % 7 == 3)
    {
        var rows = history.Waiting("phone", 5);
        history.Delivered("phone", [.. rows.Select(static waiting => waiting.Row)]);
        foreach (var waiting in rows)
            Console.Out.WriteLine($"delivered {waiting.Row} {waiting.Alert.Told.Id}");
    }
}
