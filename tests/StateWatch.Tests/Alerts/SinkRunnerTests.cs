using Microsoft.Extensions.Logging.Abstractions;
using StateWatch.Alerts;

namespace StateWatch.Tests.Alerts;

/// <summary>Runners on tasks of their own.</summary>
public sealed class SinkRunnerTests
{
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task One_sink_that_hangs_delays_no_other()
    {
        using var history = new MemoryHistory();
        var bench = new SinkBench();
        var all = new TaskCompletionSource();
        var hanging = new TaskCompletionSource();
        var phone = new ScriptedSink("phone");
        var light = new ScriptedSink("light");
        phone.Answer = async (_, cancel) =>
        {
            hanging.TrySetResult();
            await Task.Delay(Timeout.Infinite, cancel);
            return Delivery.Taken;
        };
        light.Answer = (alert, _) =>
        {
            if (alert.Alert.Told.Level.Transition == 99)
                all.SetResult();
            return ValueTask.FromResult(Delivery.Taken);
        };
        await using var first = Runner(phone, history, bench);
        await using var second = Runner(light, history, bench);
        first.Start();
        history.Add(Some.Alert("phone", Some.Key(1), 1));
        first.Wake();
        await hanging.Task.WaitAsync(Ceiling, TestContext.Current.CancellationToken);

        second.Start();
        history.Add([.. Enumerable.Range(1, 99).Select(number => Some.Alert("light", Some.Key(1), number))]);
        second.Wake();
        await all.Task.WaitAsync(Ceiling, TestContext.Current.CancellationToken);
        Assert.Empty(phone.Taken);
    }

    [Fact]
    public async Task Ending_finishes_what_is_in_flight_notes_it_and_sends_what_is_in_memory_only()
    {
        using var history = new MemoryHistory();
        var bench = new SinkBench();
        var begun = new TaskCompletionSource();
        var gate = new TaskCompletionSource();
        var light = new ScriptedSink("light");
        light.Answer = async (_, _) =>
        {
            begun.TrySetResult();
            await gate.Task;
            return Delivery.Taken;
        };
        history.Add(Some.Alert("light", Some.Key(1), 1));
        await using var runner = Runner(light, history, bench);
        runner.Start();
        await begun.Task.WaitAsync(Ceiling, TestContext.Current.CancellationToken);
        runner.OfferUnrecorded(Some.Alert("light", Some.Key(1), 2));
        runner.OfferUnrecorded(Some.Alert("phone", Some.Key(1), 2));

        var stopping = runner.StopAsync(Ceiling);
        gate.SetResult();
        await stopping;

        Assert.Equal([0, 1], light.Taken.Select(alert => alert.Unrecorded));
        Assert.Equal([1L], history.DeliveredRows);
        Assert.Equal(2, runner.State.Delivered);
    }

    [Fact]
    public async Task Ending_does_not_wait_for_ever_for_a_sink_that_hangs()
    {
        using var history = new MemoryHistory();
        var bench = new SinkBench();
        var begun = new TaskCompletionSource();
        var light = new ScriptedSink("light");
        light.Answer = async (_, cancel) =>
        {
            begun.TrySetResult();
            await Task.Delay(Timeout.Infinite, cancel);
            return Delivery.Taken;
        };
        history.Add(Some.Alert("light", Some.Key(1), 1));
        await using var runner = Runner(light, history, bench);
        runner.Start();
        await begun.Task.WaitAsync(Ceiling, TestContext.Current.CancellationToken);
        await runner.StopAsync(TimeSpan.FromMilliseconds(1)).WaitAsync(Ceiling, TestContext.Current.CancellationToken);
        Assert.Equal(1, history.CountWaiting("light"));
    }

    private static SinkRunner Runner(ScriptedSink sink, MemoryHistory history, SinkBench bench) =>
        new(sink, history, bench, bench, TimeProvider.System, NullLogger.Instance);
}
