using StateWatch.Hosting.Settings;
using StateWatch.Recordings;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Support;
using StateWatch.Tests.Watches;

namespace StateWatch.Tests.Recordings;

/// <summary>A whole watch, recorded as it runs over real sockets by real clocks, is decided again as it was.</summary>
[Collection(WholeWatches.Name)]
public sealed class RecordedWatchTests
{
    [Fact]
    public async Task Watch_over_sockets_with_orders_a_reload_and_a_restart_is_replayed_as_it_was()
    {
        using var folder = new ScratchFolder();
        await using (var watch = await RunningWatch.Start(record: new RecordSettings { Folder = folder.PathOf("rec") }))
        {
            await watch.Until(report => report.ExitCode == 0);
            var socket = watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting].Path).First(path => path.EndsWith("/phantom", StringComparison.Ordinal));
            var before = watch.Desk.Use(desk => watch.Plan.Profile.Format(desk[watch.Plan.Profile.Find(socket)]));
            watch.Set(socket, before == "on" ? "off" : "on");
            var report = await watch.Until(report => report.Desks[0].Findings.Any(finding => finding.State == "raised"));
            Assert.Equal(0, (await watch.Say("ack", report.Desks[0].Findings[0].Id, "--by", "Kim")).ExitCode);
            Assert.Equal(0, (await watch.Say("phase", "show", "--by", "Kim")).ExitCode);
            await File.AppendAllTextAsync(watch.PlanPath, "# a remark\n", TestContext.Current.CancellationToken);
            await watch.Host.Service.Reload("SIGHUP");
            await watch.Until(report => report.Desks[0].Phase == "show");
            await watch.End();
            await watch.Begin();
            await watch.Until(report => report.Desks[0].Link == "following");
            watch.Set(socket, before);
            await watch.Until(report => report.ExitCode == 0);
        }

        var files = Directory.GetFiles(folder.PathOf("rec")).Order(StringComparer.Ordinal).ToList();
        Assert.Equal(2, files.Count);
        foreach (var file in files)
        {
            var (result, fault) = ReplayRun.Of(File.OpenRead(file));
            Assert.Null(fault);
            Assert.True(result!.IsIdentical, result.FirstDifference);
            Assert.True(result.Cut is null, result.Cut);
            Assert.NotEmpty(result.Told);
            Assert.True(result.Batches > 20);
        }
    }
}
