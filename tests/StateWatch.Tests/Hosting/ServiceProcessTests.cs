using System.Diagnostics;
using System.Net.Sockets;
using System.Text;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>
/// The service as a process, as systemd runs it (sd_notify(3), sd_watchdog_enabled(3)): a datagram socket hears what it says, signals end it and read
/// its plans anew.
/// </summary>
[Collection(SocketsGroup.Name)]
public sealed class ServiceProcessTests : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly CancellationTokenSource _limit = new(TimeSpan.FromSeconds(60));
    private readonly Socket _manager = new(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
    private readonly List<string> _heard = [];

    public ServiceProcessTests() => _manager.Bind(new UnixDomainSocketEndPoint(_folder.PathOf("notify")));

    public void Dispose()
    {
        _manager.Dispose();
        _limit.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public async Task Manager_hears_of_start_life_reload_and_end_in_order()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such signals");
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Plan);
        using var watch = Start(["watch", ShippedFiles.Plan, "--desk", desk.Address]);
        var log = watch.StandardOutput.ReadToEndAsync(_limit.Token);
        var errors = watch.StandardError.ReadToEndAsync(_limit.Token);
        try
        {
            await Until("READY=1");
            Assert.True(File.Exists(_folder.PathOf("run/control.sock")));
            await Until("WATCHDOG=1");
            Signal(watch, "HUP");
            await Until("RELOADING=1\nMONOTONIC_USEC=");
            await Until("READY=1");
            await Until("STATUS=1 of 1 desks followed; ");
            Signal(watch, "TERM");
            await Until("STOPPING=1");
            await watch.WaitForExitAsync(_limit.Token);
        }
        catch (OperationCanceledException)
        {
            watch.Kill();
            Assert.Fail($"heard {string.Join(" | ", _heard)}\n{await log}\n{await errors}");
        }

        Assert.Equal((0, ""), (watch.ExitCode, await errors));
        // JOURNAL_STREAM is set, so each line has its severity (sd-daemon(3)) and no time.
        Assert.All((await log).Split('\n', StringSplitOptions.RemoveEmptyEntries), line => Assert.Matches("^<[2-7]>[^<0-9]", line));
    }

    [Fact]
    public async Task Second_watch_is_refused_while_the_first_lives_and_welcome_after_it_was_killed()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such signals");
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Plan);
        using (var first = Start(["watch", ShippedFiles.Plan, "--desk", desk.Address]))
        {
            await Until("READY=1");
            using var second = Start(["watch", ShippedFiles.Plan, "--desk", desk.Address]);
            var errors = await second.StandardError.ReadToEndAsync(_limit.Token);
            await second.WaitForExitAsync(_limit.Token);
            Assert.Equal(69, second.ExitCode);
            Assert.Contains("another watch runs here", errors, StringComparison.Ordinal);
            first.Kill();
            await first.WaitForExitAsync(_limit.Token);
        }

        Assert.True(File.Exists(_folder.PathOf("run/control.sock")));
        _heard.Clear();
        using var third = Start(["watch", ShippedFiles.Plan, "--desk", desk.Address]);
        await Until("READY=1");
        Signal(third, "INT");
        await third.WaitForExitAsync(_limit.Token);
        Assert.Equal(0, third.ExitCode);
    }

    [Fact]
    public async Task Fault_in_settings_or_plan_is_told_before_anything_starts()
    {
        var settings = _folder.Write("watch.json", """{ "desks": { "house": { "plan": "broken.plan.yaml", "adress": "x:1" } } }""");
        var (code, output, errors) = await StatewatchProcess.Run("watch", "--settings", settings);
        Assert.Equal((65, ""), (code, output));
        Assert.Contains("watch.json:1:53: desks:house:adress: there is no key 'adress' here; did you mean 'address'?", errors, StringComparison.Ordinal);
        _folder.Write("watch.json", """{ "desks": { "house": { "plan": "broken.plan.yaml" } }, "control": "c.sock", "state": "s" }""");
        Assert.Equal(66, (await StatewatchProcess.Run("watch", "--settings", settings)).ExitCode);
        _folder.Write("broken.plan.yaml", "format: statewatch/show/1\nshow: X\n");
        Assert.Equal(65, (await StatewatchProcess.Run("watch", "--settings", settings)).ExitCode);
        Assert.Equal(66, (await StatewatchProcess.Run("watch", "--settings", _folder.PathOf("absent.json"))).ExitCode);
        Assert.Equal(64, (await StatewatchProcess.Run("watch", ShippedFiles.Plan, "--desk", "nowhere")).ExitCode);
        Assert.False(Directory.Exists(_folder.PathOf("s")));
        var (nobody, _, why) = await StatewatchProcess.Run("status", "--socket", _folder.PathOf("c.sock"));
        Assert.Equal(69, nobody);
        Assert.Contains("no watch answers at", why, StringComparison.Ordinal);
    }

    private Process Start(string[] args)
    {
        var start = StatewatchProcess.Info(args);
        start.Environment["NOTIFY_SOCKET"] = _folder.PathOf("notify");
        start.Environment["WATCHDOG_USEC"] = "2000000";
        start.Environment["STATE_DIRECTORY"] = _folder.PathOf("state");
        start.Environment["RUNTIME_DIRECTORY"] = _folder.PathOf("run");
        start.Environment["JOURNAL_STREAM"] = "8:1";
        return Process.Start(start)!;
    }

    private static void Signal(Process process, string signal)
    {
        using var kill = Process.Start("kill", [$"-{signal}", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
    }

    private async Task Until(string words)
    {
        var buffer = new byte[4096];
        while (true)
        {
            var length = await _manager.ReceiveAsync(buffer, _limit.Token);
            _heard.Add(Encoding.UTF8.GetString(buffer, 0, length));
            if (_heard[^1].StartsWith(words, StringComparison.Ordinal))
                return;
        }
    }
}
