using System.Net.Sockets;
using StateWatch.Commands;
using StateWatch.Core.Findings;
using StateWatch.History;
using StateWatch.Tests.Links;

namespace StateWatch.Tests.Hosting;

/// <summary>The whole watch over loopback: a fault on the desk is found, told, acknowledged and cleared; plans are read anew; history and sinks fail and recover.</summary>
[Collection(SocketsGroup.Name)]
public sealed class WatchEndToEndTests
{
    [Fact]
    public async Task Fault_is_found_told_acknowledged_and_cleared()
    {
        await using var watch = await RunningWatch.Start();
        await watch.Until(report => report.ExitCode == 0);
        Assert.Contains("READY=1", watch.Notifier.Told);

        var socket = watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting].Path).First(path => path.EndsWith("/phantom", StringComparison.Ordinal));
        var before = watch.Desk.Use(desk => watch.Plan.Profile.Format(desk[watch.Plan.Profile.Find(socket)]));
        watch.Set(socket, before == "on" ? "off" : "on");
        var report = await watch.Until(report => report.Desks[0].Findings.Any(finding => finding.State == "raised"));
        var id = report.Desks[0].Findings[0].Id;
        await watch.UntilTold(alert => alert.Alert.Told is { Level.Kind: LevelKind.Raised } told && told.Key == $"here/midwinter/{id}");

        var (exitCode, output, _) = await watch.Say("status");
        Assert.Equal(report.ExitCode, exitCode);
        Assert.Contains($"id: {id}", output, StringComparison.Ordinal);
        Assert.Equal(64, (await watch.Say("ack", id)).ExitCode);
        var (acked, said, errors) = await watch.Say("ack", id[..^3], "--by", "Kim");
        Assert.True(acked == 0, errors);
        Assert.Contains("acknowledged", said, StringComparison.Ordinal);
        await watch.UntilTold(alert => alert.Alert.Told is { Level.Kind: LevelKind.Acknowledged, By: "Kim" });
        Assert.Contains("Kim knows, until", (await watch.Say("status", "midwinter")).Output, StringComparison.Ordinal);

        watch.Set(socket, before);
        await watch.UntilTold(alert => alert.Alert.Told is { Level.Kind: LevelKind.None } told && told.Key == $"here/midwinter/{id}");
        await watch.Until(cleared => cleared.ExitCode == 0);
    }

    [Fact]
    public async Task Plan_with_a_fault_keeps_the_running_one_and_is_told_until_it_is_put_right()
    {
        await using var watch = await RunningWatch.Start();
        await watch.Until(report => report.ExitCode == 0);
        var text = await File.ReadAllTextAsync(watch.PlanPath, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(watch.PlanPath, text + "\nnonsense: 1\n", TestContext.Current.CancellationToken);
        await watch.Host.Service.Reload("SIGHUP");
        var report = await watch.Until(report => report.Own.Count > 0);
        Assert.Equal("plan-refused:midwinter", report.Own[0].Id);
        Assert.Contains("midwinter.plan.yaml:", report.Own[0].Text, StringComparison.Ordinal);
        Assert.Equal("following", report.Desks[0].Link);
        Assert.Equal((64, true), ((await watch.Say("hold", "plan-refused", "--by", "Kim", "--why", "later", "--for", "soon")) is { ExitCode: var code, Errors: var wrong } ? (code, wrong.Contains("45m or 2h", StringComparison.Ordinal)) : default));
        Assert.Equal(1, (await watch.Say("hold", "plan-refused", "--by", "Kim", "--why", "later")).ExitCode);

        await File.WriteAllTextAsync(watch.PlanPath, text, TestContext.Current.CancellationToken);
        await watch.Host.Service.Reload("SIGHUP");
        await watch.Until(report => report.ExitCode == 0 && report.Own.Count == 0);
        Assert.Equal(["READY=1", "RELOADING=1", "READY=1", "RELOADING=1", "READY=1"], watch.Notifier.Told.Select(line => line.Split('\n')[0]).Where(line => line.StartsWith("RE", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Profile_that_changes_makes_a_new_link_and_findings_go_on()
    {
        await using var watch = await RunningWatch.Start();
        await watch.Until(report => report.ExitCode == 0);
        Assert.Equal(0, (await watch.Say("phase", "show", "--by", "Kim")).ExitCode);
        await watch.Until(report => report.Desks[0].Phase == "show");
        var profile = watch.Folder.PathOf("larch-48.desk.yaml");
        await File.AppendAllTextAsync(profile, "# a remark\n", TestContext.Current.CancellationToken);
        await watch.Host.Service.Reload("SIGHUP");
        var report = await watch.Until(report => report.Desks[0] is { Link: "following", Phase: "show", ReadSecondsAgo: not null } && !ReferenceEquals(watch.Host.Service.Site.Desks[0].Plan.Profile, watch.Plan.Profile));
        Assert.Empty(report.Own);
    }

    [Fact]
    public async Task Watch_that_was_ended_goes_on_with_what_it_remembers()
    {
        await using var watch = await RunningWatch.Start();
        await watch.Until(report => report.ExitCode == 0);
        await watch.Say("phase", "show", "--by", "Kim");
        await watch.Until(report => report.Desks[0].Phase == "show");
        await watch.End();
        Assert.Equal("STOPPING=1", watch.Notifier.Told[^1]);
        Assert.False(File.Exists(watch.Settings.ControlSocket));
        await watch.Begin();
        var report = await watch.Until(report => report.Desks[0].Link == "following");
        Assert.Equal("show", report.Desks[0].Phase);
    }

    [Fact]
    public async Task Disk_that_is_full_is_told_and_alerts_are_sent_all_the_same()
    {
        FailingHistory history = null!;
        await using var watch = await RunningWatch.Start(history: inner => history = new FailingHistory(inner));
        await watch.Until(report => report.ExitCode == 0);
        history.Fails = true;
        var path = watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting].Path).First(path => path.EndsWith("/phantom", StringComparison.Ordinal));
        var before = watch.Desk.Use(desk => watch.Plan.Profile.Format(desk[watch.Plan.Profile.Find(path)]));
        watch.Set(path, before == "on" ? "off" : "on");
        await watch.UntilTold(alert => alert is { Unrecorded: > 0, Alert.Told.Level.Kind: LevelKind.Raised } && !alert.Alert.Told.Key.StartsWith("here/statewatch", StringComparison.Ordinal));
        await watch.Until(report => report.History.IsFailing && report.Own.Any(finding => finding.Id == "history-failing:store"));
        // Lamps and beats count what is wrong with the watch itself.
        var own = watch.Host.Service.Site.Statuses.Single(status => status.Desk == "here/statewatch");
        Assert.Contains("here/statewatch/history-failing:store", own.Standing.Select(static finding => finding.Record.Key));
        history.Fails = false;
        watch.Set(path, before);
        await watch.Until(report => report is { ExitCode: 0, History.IsFailing: false, Own.Count: 0 });
    }

    [Fact]
    public async Task Disk_that_hangs_is_told_and_alerts_are_sent_all_the_same()
    {
        FailingHistory history = null!;
        await using var watch = await RunningWatch.Start(history: inner => history = new FailingHistory(inner));
        await watch.Until(report => report.ExitCode == 0);
        history.Answers.Reset();
        try
        {
            var path = watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting].Path).First(path => path.EndsWith("/phantom", StringComparison.Ordinal));
            var before = watch.Desk.Use(desk => watch.Plan.Profile.Format(desk[watch.Plan.Profile.Find(path)]));
            watch.Set(path, before == "on" ? "off" : "on");
            await watch.UntilTold(static alert => alert is { Unrecorded: > 0, Alert.Told: { Level.Kind: LevelKind.Raised, Key: "here/statewatch/history-failing:store" } });
            await watch.UntilTold(static alert => alert is { Unrecorded: > 0, Alert.Told.Level.Kind: LevelKind.Raised } && alert.Alert.Told.Key.StartsWith("here/midwinter", StringComparison.Ordinal));
            await watch.Until(static report => report.History.IsFailing);
            history.Answers.Set();
            watch.Set(path, before);
            await watch.Until(static report => report is { ExitCode: 0, History.IsFailing: false, Own.Count: 0 });
            Assert.Equal(watch.Sink.TakenIds.Count, watch.Sink.TakenIds.Distinct(StringComparer.Ordinal).Count()); // what was told while it hung is not told again when it is stored
        }
        finally
        {
            history.Answers.Set();
        }
    }

    [Fact]
    public async Task Watch_that_begins_while_its_history_cannot_be_read_goes_on_with_its_memory_once_it_can()
    {
        await using var watch = await RunningWatch.Start();
        var path = watch.Plan.Expectations.Select(expectation => watch.Plan.Profile.Settings[expectation.Setting].Path).First(path => path.EndsWith("/phantom", StringComparison.Ordinal));
        var before = watch.Desk.Use(desk => watch.Plan.Profile.Format(desk[watch.Plan.Profile.Find(path)]));
        await watch.Until(report => report.ExitCode == 0);
        watch.Set(path, before == "on" ? "off" : "on");
        await watch.UntilTold(static alert => alert.Alert.Told.Level.Kind == LevelKind.Raised);
        watch.Set(path, before);
        await watch.UntilTold(static alert => alert.Alert.Told.Level.Kind == LevelKind.None);
        await watch.End();

        FailingHistory history = null!;
        await watch.Begin(inner => history = new FailingHistory(inner) { IsUnreadable = true });
        await watch.Until(report => report is { Desks: [{ Link: "following" }], History.IsFailing: true } && report.Own.Count == 2);
        Assert.Equal(0, (await watch.Say("phase", "show", "--by", "Kim")).ExitCode);
        watch.Set(path, before == "on" ? "off" : "on");
        await watch.UntilTold(alert => alert is { Unrecorded: > 0, Alert.Told.Level: { Kind: LevelKind.Raised, Episode: 1 } } && alert.Alert.Told.Key.StartsWith("here/midwinter", StringComparison.Ordinal));

        history.IsUnreadable = false;
        var report = await watch.Until(report => report is { History.IsFailing: false, Own.Count: 0, Desks: [{ Link: "following", Phase: "show", ReadSecondsAgo: not null }] } && report.Desks[0].Findings.Any(finding => finding.Episode == 2));
        Assert.Equal("raised", Assert.Single(report.Desks[0].Findings).State);
        watch.Set(path, before);
        await watch.UntilTold(static alert => alert is { Unrecorded: 0, Alert.Told.Level: { Kind: LevelKind.None, Episode: 2 } });
        await watch.Until(report => report.ExitCode == 0);
    }

    [Fact]
    public async Task Message_of_the_plan_begins_a_phase_and_anything_else_does_nothing()
    {
        await using var watch = await RunningWatch.Start(edit: text => text.Replace("  show:       { guarded:", "  show:       { message: /hall/show, guarded:", StringComparison.Ordinal));
        await watch.Until(report => report.ExitCode == 0);
        using var sender = new UdpClient(AddressFamily.InterNetwork);
        // OSC 1.0: an address pattern, padded with zeros to a multiple of four, then the type tags "," and what they announce.
        foreach (var datagram in (byte[][])[[], "garbage"u8.ToArray(), "/hall/shoo\0\0,\0\0\0"u8.ToArray(), "#bundle\0"u8.ToArray(), "/hall/show\0\0,\0\0\0"u8.ToArray()])
            await sender.SendAsync(datagram, watch.Host.Service.Messages!.EndPoint, TestContext.Current.CancellationToken);
        await watch.Until(report => report.Desks[0].Phase == "show");
        Assert.Contains("phase for here/midwinter by message: show from now on", watch.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Address_that_is_none_of_this_machine_is_told_with_exit_69_and_everything_ends()
    {
        // RFC 5737: 192.0.2.0/24 is for documentation, and no machine's.
        var refusal = await Assert.ThrowsAsync<CommandException>(() => RunningWatch.Start(http: new System.Net.IPEndPoint(System.Net.IPAddress.Parse("192.0.2.99"), 9480), token: "0123456789abcdef"));
        Assert.Equal(ExitCodes.Unavailable, refusal.ExitCode);
        Assert.Contains("192.0.2.99:9480", refusal.Message, StringComparison.Ordinal);
    }

    private sealed class FailingHistory(IWatchHistory inner) : IWatchHistory
    {
        public bool Fails { get; set; }

        public string Place => inner.Place;

        public bool IsUnreadable { get; set; }

        /// <summary>Whatever is asked waits for this, as a disk does that is dying.</summary>
        public ManualResetEventSlim Answers { get; } = new(true);

        public Core.Watching.StoredDesk? Load(string desk) => IsUnreadable ? throw new HistoryException("the server does not answer") : inner.Load(desk);

        public void Commit(IReadOnlyList<Core.Watching.WatchOutput> outputs)
        {
            Answers.Wait();
            if (Fails)
                throw new HistoryException("the disk is full");
            inner.Commit(outputs);
        }

        public IReadOnlyList<WaitingAlert> Waiting(string sink, int most)
        {
            Answers.Wait();
            return inner.Waiting(sink, most);
        }

        public int CountWaiting(string sink)
        {
            Answers.Wait();
            return inner.CountWaiting(sink);
        }

        public void Delivered(string sink, IReadOnlyList<long> rows)
        {
            Answers.Wait();
            inner.Delivered(sink, rows);
        }

        public void Refused(string sink, IReadOnlyList<long> rows) => inner.Refused(sink, rows);

        public int Coalesce(string sink, int most) => inner.Coalesce(sink, most);

        public string Tidy(DateTimeOffset now, bool isClockTrusted) => inner.Tidy(now, isClockTrusted);

        public void Dispose() => inner.Dispose();
    }
}
