using System.Diagnostics;
using System.Globalization;
using StateWatch.Core.Findings;
using StateWatch.Core.Tests;
using StateWatch.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>A program that commits in a storm is killed (SIGKILL) at seeded random moments, again and again over the same files: nothing committed is lost.</summary>
public sealed class KillTests : IDisposable
{
    private const int Rounds = 24;
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Nothing_that_was_committed_is_lost_or_doubled_by_kill_9()
    {
        var seed = TestNumber.Of("STATEWATCH_SEED", 20260101);
        TestContext.Current.TestOutputHelper!.WriteLine($"seed {seed}");
        var random = new Random(seed);
        var delivered = new List<string>();
        var (last, committed) = (0, 0);
        for (var round = 0; round < Rounds; round++)
        {
            var lines = await Storm(random);
            List<int> numbers = [.. lines.Where(static line => line.StartsWith("committed ", StringComparison.Ordinal)).Select(static line => int.Parse(line["committed ".Length..], CultureInfo.InvariantCulture))];
            committed += numbers.Count;
            last = numbers.Append(last).Max();
            delivered.AddRange(lines.Where(static line => line.StartsWith("delivered ", StringComparison.Ordinal)).Select(static line => line.Split(' ', 3)[2]));
            last = Check(last, committed, delivered, $"seed {seed}, round {round}");
        }

        Assert.True(last > Rounds, $"only {last} commits");
    }

    // Runs it for a random number of commits and a little longer, so that it dies anywhere within the next one.
    private async Task<List<string>> Storm(Random random)
    {
        var target = Path.GetFullPath(Path.Combine(AppContext.BaseDirectory.Replace("StateWatch.Tests", "StateWatch.KillTarget", StringComparison.Ordinal), "StateWatch.KillTarget.dll"));
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true };
        start.ArgumentList.Add(target);
        start.ArgumentList.Add(_folder.PathOf("history"));
        using var process = Process.Start(start)!;
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        var lines = new List<string>();
        try
        {
            for (var count = random.Next(0, 40); count > 0 && await process.StandardOutput.ReadLineAsync(limit.Token) is { } line; count--)
                lines.Add(line);
            var until = Stopwatch.GetTimestamp() + (long)(random.NextDouble() * 0.01 * Stopwatch.Frequency);
            while (Stopwatch.GetTimestamp() < until)
                Thread.SpinWait(20);
        }
        finally
        {
            process.Kill();
        }

        while (await process.StandardOutput.ReadLineAsync(limit.Token) is { } line)
            lines.Add(line);
        await process.WaitForExitAsync(limit.Token);
        return lines;
    }

    // Of a commit that did not return, findings may be there and observations not.
    private int Check(int told, int committed, List<string> delivered, string when)
    {
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("history")) { LeastFreeMegabytes = 0 }, TimeProvider.System);
        if (history.Load("hall/desk") is not { } stored)
        {
            Assert.True(told == 0, $"{when}: {told} commits are gone");
            return 0;
        }

        var commits = int.Parse(stored.Standing.Cue!, CultureInfo.InvariantCulture);
        Assert.True(commits >= told, $"{when}: told {told} commits, but only {commits} are there");
        Assert.Empty(history.TakeNotices());
        using var read = HistoryFolder.Open(_folder.PathOf("history"));
        Assert.Equal(Enumerable.Range(1, commits).Select(static number => $"commit {number}"), read.ShowEvents(null, DateTimeOffset.MaxValue).Select(static line => line.Event.Text));
        Assert.True(read.Coverage(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Count >= committed, $"{when}: observations are gone");
        CheckFindings(stored.Ledger.Findings, read.Events(null, DateTimeOffset.MaxValue), when);
        foreach (var sink in (string[])["light", "phone"])
            CheckOrder(history.Waiting(sink, int.MaxValue).Select(static waiting => waiting.Alert.Told), delivered, sink, when);
        var announced = read.Announcements(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue);
        CheckOrder(announced.Select(static one => new Announcement("", one.Key, one.Level, default, default)), [], "", when);
        return commits;
    }

    // The state of each finding is that of its journal, to the last line of it.
    private static void CheckFindings(IReadOnlyList<FindingRecord> findings, IReadOnlyList<LedgerEvent> events, string when)
    {
        foreach (var record in findings)
        {
            var own = events.Where(line => line.Key == record.Key).ToList();
            Assert.True(record.Episode == own.Count(static line => line.Kind == LedgerEventKind.Raised), $"{when}: {record.Key} has {record.Episode} episodes, its journal others");
            var turn = own.LastOrDefault(static line => line.Kind is LedgerEventKind.Raised or LedgerEventKind.Reopened or LedgerEventKind.Closed);
            var isOpen = turn is not null && turn.Kind != LedgerEventKind.Closed;
            Assert.True(isOpen == record.Condition is Condition.Active or Condition.Clearing, $"{when}: {record.Key} is {record.Condition}, its journal ends with {turn?.Kind}");
        }
    }

    // One id for each key, episode and transition, rising; and what was delivered does not wait.
    private static void CheckOrder(IEnumerable<Announcement> announcements, List<string> delivered, string sink, string when)
    {
        var latest = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var told in announcements)
        {
            Assert.True(told.Level.Transition > latest.GetValueOrDefault(told.Key), $"{when}: {told.Id} comes after transition {latest.GetValueOrDefault(told.Key)}");
            latest[told.Key] = told.Level.Transition;
            Assert.False(sink == "phone" && delivered.Contains(told.Id), $"{when}: {told.Id} was delivered and waits again");
        }
    }
}
