using System.Collections;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>The manager hears that the service lives only while every loop comes round (sd_notify(3), sd_watchdog_enabled(3)).</summary>
public sealed class WatchdogTests
{
    private readonly FakeTimeProvider _clock = new();
    private readonly FakeNotifier _notifier = new();
    private readonly FakeReports _reports = new();

    [Fact]
    public void Loop_that_stands_still_withholds_the_sign_of_life_and_is_told()
    {
        using var moving = new FakeLoop(_clock);
        using var still = new FakeLoop(_clock, "here/stage");
        var dog = new Watchdog([moving.Loop, still.Loop], new SystemNotices(_notifier), _reports, NullLogger.Instance) { Half = TimeSpan.FromSeconds(15) };
        Assert.True(dog.Look());
        Assert.Equal(["WATCHDOG=1"], _notifier.Told);

        _clock.Advance(TimeSpan.FromSeconds(15));
        moving.Turn();
        Assert.False(dog.Look());
        Assert.Single(_notifier.Told);
        Assert.Equal(["loop-stalled:stage"], _reports.Standing);

        still.Turn();
        Assert.True(dog.Look());
        Assert.Equal(2, _notifier.Told.Count);
        Assert.Empty(_reports.Standing);
    }

    // sd_watchdog_enabled(3): WATCHDOG_USEC in microseconds; WATCHDOG_PID names the process it is for; half of it is the recommended interval.
    [Theory]
    [InlineData("30000000", null, 15.0)]
    [InlineData("30000000", "4711", 15.0)]
    [InlineData("30000000", "4712", null)]
    [InlineData("0", null, null)]
    [InlineData("soon", null, null)]
    [InlineData(null, "4711", null)]
    public void Time_is_half_of_what_the_manager_says_to_this_process(string? micros, string? process, double? seconds)
    {
        var environment = new Hashtable();
        if (micros is not null)
            environment["WATCHDOG_USEC"] = micros;
        if (process is not null)
            environment["WATCHDOG_PID"] = process;
        Assert.Equal(seconds, Watchdog.HalfOf(environment, 4711)?.TotalSeconds);
    }

    [Fact]
    public void Manager_is_told_in_its_own_words()
    {
        var notices = new SystemNotices(_notifier);
        notices.Status("one line");
        notices.Status("one line");
        notices.Ready();
        notices.Reloading();
        notices.Stopping();
        Assert.Equal(["STATUS=one line", "READY=1", "STOPPING=1"], _notifier.Told.Where(line => !line.StartsWith("RELOADING", StringComparison.Ordinal)));
        // sd_notify(3): MONOTONIC_USEC is CLOCK_MONOTONIC in microseconds, which /proc/uptime counts too (in seconds, from the same start unless the machine slept).
        var lines = _notifier.Told.Single(line => line.StartsWith("RELOADING=1\n", StringComparison.Ordinal)).Split('\n');
        var micros = long.Parse(lines[1]["MONOTONIC_USEC=".Length..], System.Globalization.CultureInfo.InvariantCulture);
        if (OperatingSystem.IsLinux())
            Assert.InRange(micros / 1e6, 0, Environment.TickCount64 / 1000.0 + 60);
    }

    [Fact]
    public void Without_a_manager_nothing_is_sent()
    {
        var deaf = new FakeNotifier { IsEnabled = false };
        new SystemNotices(deaf).Ready();
        Assert.Empty(deaf.Told);
    }

    private sealed class FakeLoop : IDisposable
    {
        private readonly FakeTurns _turns;

        public FakeLoop(TimeProvider clock, string desk = "here/house")
        {
            _turns = new FakeTurns(null, desk);
            Loop = new DeskLoop(new OutputSlot(desk, static () => { }), new StandingCopy(null), _ => _turns, new LoopReports(new FakeReports(), NullLogger.Instance), clock);
            Loop.Start();
            Turn();
        }

        public DeskLoop Loop { get; }

        public void Turn()
        {
            _turns.LetGo();
            Assert.True(SpinWait.SpinUntil(() => Loop.SinceBeat == TimeSpan.Zero && Loop.HasTurned, FakeTurns.Ceiling));
        }

        public void Dispose()
        {
            Loop.Stop("the test", TimeSpan.Zero);
            _turns.LetGo(2);
            Loop.Stop("the test", FakeTurns.Ceiling);
            Loop.Dispose();
        }
    }
}
