using StateWatch.Alerts;
using StateWatch.Core.Findings;
using StateWatch.Core.Settings;
using StateWatch.History;
using StateWatch.Tests.Hosting;

namespace StateWatch.Tests.Watches;

/// <summary>A whole watch whose history fails as SQLite does when the disk is full or may only be read: it says so, tells what it finds, and goes on recording when it can.</summary>
[Collection(WholeWatches.Name)]
public sealed class LimitedDiskTests
{
    [Theory]
    [InlineData(false, "the disk is full")]
    [InlineData(true, "it may only be read")]
    public async Task Watch_goes_on_and_says_that_nothing_is_stored_until_it_is_again(bool isReadOnly, string why)
    {
        LimitedDisk disk = null!;
        await using var watch = await RunningWatch.Start(history: inner =>
        {
            inner.Dispose();
            return disk = new LimitedDisk(new HistoryOptions(inner.Place) { LeastFreeMegabytes = 0 });
        });
        await watch.Until(static report => report.ExitCode == 0);
        if (isReadOnly)
            disk.MakeReadOnly();
        else
            disk.Fill();

        // Faults come one by one, no bulk change, until what SQLite had in hand is used up.
        var switches = new Queue<(string Path, bool Planned)>(Switches(watch));
        var done = new List<(string Path, bool Planned)>();
        while (!watch.Host.Report().History.IsFailing)
        {
            await Turn();
            Assert.True(done.Count < 100, $"a hundred findings were stored on a disk that is full\n{watch.Log}");
        }

        var report = await watch.Until(static report => report.Own.Count > 0);
        Assert.Equal(("history-failing:store", "urgent"), (report.Own[0].Id, report.Own[0].Severity));
        Assert.Contains(why, report.Own[0].Text, StringComparison.Ordinal);
        Assert.Contains("a restart would forget it", report.Own[0].Why, StringComparison.Ordinal);
        await watch.UntilTold(static alert => alert is { Unrecorded: > 0, Alert.Told: { Key: "here/statewatch/history-failing:store", Level.Kind: LevelKind.Raised } });

        // It watches on: what goes off plan now is found and told, marked as not recorded, and the desk is followed.
        var unstored = await Turn();
        await watch.UntilTold(alert => alert is { Unrecorded: > 0, Alert.Told.Level.Kind: LevelKind.Raised } && alert.Alert.Told.Key.Contains(unstored, StringComparison.Ordinal) && AlertPayload.IdOf(alert).Contains("#unrecorded-", StringComparison.Ordinal));
        Assert.Equal("following", watch.Host.Report().Desks[0].Link);

        disk.Free();
        await watch.Until(static report => report is { History.IsFailing: false, Own.Count: 0 });
        var stored = await Turn();
        await watch.UntilTold(alert => alert is { Unrecorded: 0, Alert.Told.Level.Kind: LevelKind.Raised } && alert.Alert.Told.Key.Contains(stored, StringComparison.Ordinal));
        // The journal has no gap: what was found meanwhile was kept in memory and stored.
        using (var reader = HistoryFolder.Open(disk.Place))
        {
            var journal = reader.Events("here/midwinter", DateTimeOffset.MaxValue).Where(static line => line.Kind == LedgerEventKind.Raised).Select(static line => line.Key).ToList();
            Assert.All(done, one => Assert.Contains(journal, key => key.Contains(one.Path, StringComparison.Ordinal)));
        }

        foreach (var (path, planned) in done)
            watch.Set(path, planned ? "on" : "off");
        await watch.Until(static report => report.ExitCode == 0);

        async Task<string> Turn()
        {
            var next = switches.Dequeue();
            done.Add(next);
            watch.Set(next.Path, next.Planned ? "off" : "on");
            await watch.Until(report => report.Desks[0].Findings.Any(finding => finding.Id.Contains(next.Path, StringComparison.Ordinal) && finding.State == "raised"));
            return next.Path;
        }
    }

    private static List<(string Path, bool Planned)> Switches(RunningWatch watch) => watch.Desk.Use(desk =>
        watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting])
            .Where(setting => setting.Path.EndsWith("/phantom", StringComparison.Ordinal) && desk[setting.Id].Kind == ValueKind.Switch)
            .Select(setting => (setting.Path, desk[setting.Id].IsOn)).ToList());
}
