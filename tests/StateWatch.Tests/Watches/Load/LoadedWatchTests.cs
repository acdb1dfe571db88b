using System.Diagnostics;
using System.Globalization;
using StateWatch.Core.Links;
using StateWatch.Core.Tests;

namespace StateWatch.Tests.Watches.Load;

/// <summary>
/// Ten desks of 20,000 settings of which 200 change every second, then the same with a flood at one of them: nothing is lost, everything stays known, findings are
/// right, memory stays flat. How fast it is no test says: <c>.ci/load</c> writes it down.
/// </summary>
[Collection(RunsAlone.Name)]
public sealed class LoadedWatchTests
{
    private const int Desks = 10;
    private const int ChangesPerSecond = 200;
    private const int FloodPerSecond = 50_000;
    private static readonly TimeSpan Ceiling = TimeSpan.FromMinutes(5);
    private readonly ITestOutputHelper _output = TestContext.Current.TestOutputHelper!;

    [Fact]
    public async Task Ten_desks_that_never_rest_are_followed_without_loss_and_a_flood_of_strangers_changes_nothing()
    {
        var isReport = Environment.GetEnvironmentVariable("STATEWATCH_LOAD") is { Length: > 0 };
        var span = TimeSpan.FromSeconds(TestNumber.Of("STATEWATCH_LOAD", 20));
        // What else is on the heap of a test run is none of it.
        var empty = GC.GetTotalMemory(forceFullCollection: true);
        await using var watch = new LoadedWatch(Desks);
        Assert.All(watch.Desks, static desk => Assert.True(desk.SettingCount >= 20_000));
        var began = Stopwatch.GetTimestamp();
        await Until(watch, () => watch.Desks.All(static desk => desk.IsVerified), "everything was read");
        Say($"{Desks} desks of {watch.Desks[0].SettingCount:N0} settings, of which the plan looks at {watch.Statuses[0].Coverage.Planned:N0}; all read after {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s");
        watch.BeginStorm(ChangesPerSecond);

        // Queues, pools and journals grow to what they need first.
        await Task.Delay(span / 4, TestContext.Current.CancellationToken);
        var calm = await Watch(watch, "changes", span * 3 / 8, empty);
        using var flood = new Flood(watch.Desks[0].Listens, FloodPerSecond, span);
        var flooded = await Watch(watch, "changes and flood", span * 3 / 8, empty);
        var sent = await flood.Stop();
        await watch.EndStorm();

        await Until(watch, () => watch.Desks.All(static desk => desk.IsVerified), "everything is known");
        var links = watch.Statuses.Select(static status => status.Link).ToList();
        var all = new LinkCounters(links.Sum(static link => link.Sent), links.Sum(static link => link.Received), links.Sum(static link => link.Foreign), links.Sum(static link => link.Dropped), links.Sum(static link => link.TooLong), links.Sum(static link => link.Refused));
        Say($"changes made: {watch.Changes:N0}; {all}; undecodable: {watch.Statuses.Sum(static status => status.Undecodable)}; commits: {watch.Commits}");
        Say($"flood: {sent:N0} datagrams sent to one link, of which the system handed over {links[0].Foreign:N0}; p99 of that desk with the flood {flooded.OfFirst / calm.OfFirst:0.00} times that without");
        Assert.Equal((0L, 0L), (all.Dropped, all.TooLong));
        Assert.True(links[0].Foreign > 0 && links.Skip(1).All(static link => link.Foreign == 0), "the flood came to one desk and was told from its own");
        Assert.Equal([], watch.Wrong);
        Assert.All(watch.Statuses, static status => Assert.Equal(1, status.Session));
        Assert.InRange(flooded.Bytes / (double)calm.Bytes, 0, isReport ? 1.05 : 1.10);
    }

    // In its midst something is put wrong at each desk, and right again: it must be found there, and nothing else anywhere.
    private async Task<(long Bytes, double OfFirst)> Watch(LoadedWatch watch, string name, TimeSpan span, long empty)
    {
        foreach (var desk in watch.Desks)
            desk.Latencies.Clear();
        var (began, bytes) = (Stopwatch.GetTimestamp(), new List<long>());
        for (var part = 0; part < 4; part++)
        {
            if (part == 1)
                await PutWrong(watch);
            var left = (span * (part + 1) / 4) - Stopwatch.GetElapsedTime(began);
            if (left > TimeSpan.Zero)
                await Task.Delay(left, TestContext.Current.CancellationToken);
            bytes.Add(GC.GetTotalMemory(forceFullCollection: true) - empty);
        }

        var seconds = Stopwatch.GetElapsedTime(began).TotalSeconds;
        Say($"{name}, {seconds:0} s: all desks {Latencies.Words(Latencies.Of([.. watch.Desks.Select(static desk => desk.Latencies)]))}; the first desk {Latencies.Words(Latencies.Of([watch.Desks[0].Latencies]))}");
        Say($"{name}: memory after collections {string.Join(", ", bytes.Select(static one => string.Create(CultureInfo.InvariantCulture, $"{one / 1048576.0:0.0}")))} MB");
        return (bytes[^1], Latencies.Of([watch.Desks[0].Latencies]).NinetyNine);
    }

    private static async Task PutWrong(LoadedWatch watch)
    {
        for (var number = 0; number < watch.Desks.Count; number++)
            watch.Desks[number].Switch($"input/{number + 3}/send/mix/{number + 5}/on", isOn: false);
        await Until(watch, () => watch.Desks.Select(static (desk, number) => desk.Raised is [var one] && one.Contains($"input/{number + 3}/send/mix/{number + 5}/on", StringComparison.Ordinal)).All(static isRight => isRight), "what was put wrong is found, and nothing else");
        for (var number = 0; number < watch.Desks.Count; number++)
            watch.Desks[number].Switch($"input/{number + 3}/send/mix/{number + 5}/on", isOn: true);
        await Until(watch, () => watch.Desks.All(static desk => desk.Raised.Count == 0), "what was put right is cleared");
    }

    private void Say(string line) => _output.WriteLine($"load: {line}");

    private static async Task Until(LoadedWatch watch, Func<bool> holds, string what)
    {
        var began = Stopwatch.GetTimestamp();
        while (!holds())
        {
            if (Stopwatch.GetElapsedTime(began) > Ceiling)
                Assert.Fail($"'{what}' did not come about: {string.Join("\n", watch.Statuses.Select(static status => $"{status.Desk} {status.Following} {status.Coverage} {string.Join(' ', status.Standing.Take(5).Select(static one => one.Record.Key))}"))}\n{string.Join(' ', watch.Wrong)}");
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }
}
