using CsCheck;
using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Alerts;

/// <summary>Order, retries, and what happens when receiver or history fail; in virtual time.</summary>
public sealed class SinkTellingTests
{
    private static readonly Delivery Refused = new(DeliveryOutcome.Retry, "refused");

    [Fact]
    public async Task What_waits_is_sent_in_order_noted_and_told_to_the_desk()
    {
        var bench = new SinkBench();
        var alerts = Enumerable.Range(1, 150).Select(number => Some.Alert("light", Some.Key(number % 7), 1 + (number / 7))).ToArray();
        bench.History.Add(alerts);

        await bench.Settle();

        Assert.Equal(alerts.Select(alert => alert.Told.Id), bench.Sink.TakenIds);
        Assert.Equal(Enumerable.Range(1, 150).Select(row => (long)row), bench.History.DeliveredRows);
        Assert.Equal(0, bench.History.CountWaiting("light"));
        Assert.Equal([.. alerts.Select(alert => (Some.Desk, (WatchOrder)new DeliveredOrder(alert.Told))), ("*", new SinkOrder("light", true, true))], bench.Orders);
        Assert.InRange(bench.History.Notes, 1, 4);
    }

    [Fact]
    public async Task What_is_for_another_sink_is_left_alone()
    {
        var bench = new SinkBench();
        bench.History.Add(Some.Alert("phone", Some.Key(1), 1));
        await bench.Settle();
        Assert.Equal(0, bench.Sink.Tries);
    }

    [Fact]
    public async Task Retries_come_after_1_5_and_30_seconds_2_minutes_and_then_every_5_minutes()
    {
        var bench = new SinkBench();
        var tries = new List<double>();
        bench.Sink.Answer = (_, _) =>
        {
            tries.Add((bench.Clock.GetUtcNow() - Some.Start).TotalSeconds);
            return ValueTask.FromResult(Refused);
        };
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));

        await bench.Pass(TimeSpan.FromMinutes(20));

        Assert.Equal([0, 1, 6, 36, 156, 456, 756, 1056], tries);
    }

    [Fact]
    public async Task After_a_success_retries_begin_anew()
    {
        var bench = new SinkBench();
        var answers = new Queue<Delivery>([Refused, Refused, Delivery.Taken, Refused, Delivery.Taken]);
        var tries = new List<double>();
        bench.Sink.Answer = (_, _) =>
        {
            tries.Add((bench.Clock.GetUtcNow() - Some.Start).TotalSeconds);
            return ValueTask.FromResult(answers.Dequeue());
        };
        bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(1), 2));

        await bench.Pass(TimeSpan.FromMinutes(1));

        Assert.Equal([0, 1, 6, 6, 7], tries);
        Assert.Equal([1, 2], bench.Sink.Taken.Select(alert => alert.Alert.Told.Level.Transition));
    }

    [Theory]
    [InlineData(90, 90)]
    [InlineData(0, 1)]
    [InlineData(1_000_000, 3600)]
    public async Task What_the_receiver_asks_for_wins_within_reason(int asked, int waited)
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        var tries = new List<double>();
        bench.Sink.Answer = (_, _) =>
        {
            tries.Add((bench.Clock.GetUtcNow() - Some.Start).TotalSeconds);
            return ValueTask.FromResult(tries.Count == 1 ? new Delivery(DeliveryOutcome.Retry, "too many", TimeSpan.FromSeconds(asked)) : Delivery.Taken);
        };
        await bench.Settle();
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Settle();
        var beats = bench.Sink.Beats;

        await bench.Pass(TimeSpan.FromSeconds(waited - 0.5));
        Assert.Equal((1, beats), (tries.Count, bench.Sink.Beats));

        await bench.Pass(TimeSpan.FromSeconds(1));
        Assert.Equal([0, waited], tries);
    }

    [Fact]
    public async Task A_receiver_that_is_gone_for_good_is_sent_nothing_more()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(new Delivery(DeliveryOutcome.Stop, "410 Gone"));
        bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(2), 1));

        await bench.Settle();
        var beats = bench.Sink.Beats;
        await bench.Pass(TimeSpan.FromHours(2));

        Assert.Equal((1, beats), (bench.Sink.Tries, bench.Sink.Beats));
        Assert.True(bench.Telling.State is { IsStopped: true, IsUp: false, LastError: "410 Gone", NextTry: null, Waiting: 2 });
        Assert.Equal(["+sink-not-delivering:light"], bench.Reports.Where(report => report.StartsWith('+')));
        Assert.Contains("410 Gone", bench.Words["sink-not-delivering:light"].Text, StringComparison.Ordinal);
        Assert.Equal([new SinkOrder("light", false, false)], bench.Orders.Select(order => order.Order));
    }

    [Fact]
    public async Task A_sink_that_fails_for_a_minute_is_told_and_cleared_by_the_first_delivery()
    {
        var bench = new SinkBench();
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));

        await bench.Pass(TimeSpan.FromSeconds(59));
        Assert.DoesNotContain("+sink-not-delivering:light", bench.Reports);
        await bench.Pass(TimeSpan.FromSeconds(1));
        Assert.Equal("+sink-not-delivering:light", bench.Reports[^1]);
        Assert.Contains("refused", bench.Words["sink-not-delivering:light"].Text, StringComparison.Ordinal);
        Assert.Equal([new SinkOrder("light", false, false)], bench.Orders.Select(order => order.Order));

        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        await bench.Pass(TimeSpan.FromMinutes(2));
        Assert.Equal("-sink-not-delivering:light", bench.Reports.Last(report => report.Contains("delivering", StringComparison.Ordinal)));
        Assert.Equal(new SinkOrder("light", true, false), bench.Orders[1].Order);
        Assert.True(bench.Telling.State is { IsUp: true, Delivered: 1, NextTry: null, LastError: "refused" });
    }

    [Fact]
    public async Task What_an_earlier_run_told_of_the_sink_is_cleared_when_it_takes_something()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        await bench.Settle();
        Assert.Equal(["-sink-not-delivering:light", "-outbox-overflow:light"], bench.Reports.Order(StringComparer.Ordinal).Reverse());
    }

    [Fact]
    public async Task Beats_come_every_30_seconds_for_each_desk_whether_or_not_alerts_fail()
    {
        var bench = new SinkBench { Statuses = [Some.Status(), Some.Status("barn/spare")] };
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Pass(TimeSpan.FromSeconds(299));
        Assert.Equal(2 * 10, bench.Sink.Beats);
    }

    [Fact]
    public async Task A_receiver_that_is_away_is_noticed_by_its_beats_before_there_is_anything_to_tell()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        bench.Sink.BeatAnswer = static () => Refused;
        await bench.Pass(TimeSpan.FromSeconds(60));
        Assert.Equal("+sink-not-delivering:light", bench.Reports[^1]);

        bench.Sink.BeatAnswer = static () => Delivery.Taken;
        await bench.Pass(TimeSpan.FromSeconds(30));
        Assert.Equal("-sink-not-delivering:light", bench.Reports.Last(report => report.Contains("delivering", StringComparison.Ordinal)));
        Assert.True(bench.Telling.State.IsUp);
    }

    [Fact]
    public async Task A_sink_that_refuses_beats_is_told_of_everything_all_the_same()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        bench.Sink.BeatAnswer = static () => new Delivery(DeliveryOutcome.Retry, "503 ServiceUnavailable", TimeSpan.FromHours(1));
        await bench.Pass(TimeSpan.FromMinutes(10));
        Assert.DoesNotContain(new SinkOrder("light", false, false), bench.Orders.Select(static order => order.Order));
        Assert.Contains("no beats", bench.Words["sink-not-delivering:light"].Text, StringComparison.Ordinal);

        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Settle();
        Assert.Single(bench.Sink.Taken);
        Assert.Equal("+sink-not-delivering:light", bench.Reports.Last(report => report.Contains("delivering", StringComparison.Ordinal)));
        Assert.Equal("503 ServiceUnavailable", bench.Telling.State.LastError);

        bench.Sink.BeatAnswer = static () => Delivery.Taken;
        await bench.Pass(TimeSpan.FromMinutes(1));
        Assert.Equal("-sink-not-delivering:light", bench.Reports.Last(report => report.Contains("delivering", StringComparison.Ordinal)));
        Assert.True(bench.Telling.State is { IsUp: true, NextTry: null });
    }

    [Fact]
    public async Task Alerts_that_fail_for_a_minute_stop_the_desks_though_beats_failed_before()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        bench.Sink.BeatAnswer = static () => Refused;
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        await bench.Pass(TimeSpan.FromMinutes(5));
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Pass(TimeSpan.FromSeconds(55));
        Assert.DoesNotContain(new SinkOrder("light", false, false), bench.Orders.Select(static order => order.Order));
        await bench.Pass(TimeSpan.FromSeconds(10));
        Assert.Equal(new SinkOrder("light", false, false), bench.Orders[^1].Order);
        Assert.Contains("taken nothing", bench.Words["sink-not-delivering:light"].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_beat_that_is_taken_again_ends_the_wait_of_alerts()
    {
        var bench = new SinkBench { Statuses = [Some.Status()] };
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        bench.Sink.BeatAnswer = static () => Refused;
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Pass(TimeSpan.FromSeconds(460));

        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        bench.Sink.BeatAnswer = static () => Delivery.Taken;
        await bench.Pass(TimeSpan.FromSeconds(30));
        Assert.Single(bench.Sink.Taken);
    }

    [Fact]
    public async Task A_sink_that_throws_or_hangs_is_one_that_did_not_take_it()
    {
        var bench = new SinkBench();
        bench.Sink.Answer = static (_, _) => throw new InvalidOperationException("it broke");
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Settle();
        Assert.Equal("it broke", bench.Telling.State.LastError);

        bench.Sink.Answer = static async (_, cancel) =>
        {
            await Task.Delay(Timeout.Infinite, cancel);
            return Delivery.Taken;
        };
        bench.Clock.Advance(TimeSpan.FromSeconds(1));
        var step = bench.Telling.Step(TestContext.Current.CancellationToken).AsTask();
        bench.Clock.Advance(TimeSpan.FromSeconds(30));
        await step;
        Assert.Equal("no answer within 30 s", bench.Telling.State.LastError);
    }

    [Fact]
    public async Task When_too_much_waits_superseded_alerts_are_thrown_away_and_that_is_told()
    {
        var bench = new SinkBench(numbers: new SinkNumbers { MostWaiting = 20 });
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        bench.History.Add([.. Enumerable.Range(0, 30).Select(number => Some.Alert("light", Some.Key(number % 3), 1 + (number / 3)))]);
        await bench.Pass(TimeSpan.FromSeconds(2));
        Assert.Contains("+outbox-overflow:light", bench.Reports);
        Assert.Equal((3, 27), (bench.Telling.State.Waiting, bench.Telling.State.ThrownAway));

        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        await bench.Pass(TimeSpan.FromMinutes(1));
        Assert.Equal([10, 10, 10], bench.Sink.Taken.Select(alert => alert.Alert.Told.Level.Transition));
        Assert.All(bench.Sink.Taken, alert => Assert.Equal(9, alert.Gap));
        Assert.Contains("-outbox-overflow:light", bench.Reports);
        // A digest that was thrown away told of findings that have no alert of their own.
        Assert.Equal(new SinkOrder("light", true, true), bench.Orders[^1].Order);
    }

    [Fact]
    public async Task A_later_digest_in_memory_supersedes_none_of_those_before()
    {
        var bench = new SinkBench(numbers: new SinkNumbers { MostUnrecorded = 3 });
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        await bench.Settle();
        bench.Telling.Unrecorded.Add(Some.Digest("light", 1, (Some.Key(1), 1)));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 1));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 2));
        bench.Telling.Unrecorded.Add(Some.Digest("light", 2, (Some.Key(3), 1)));
        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        await bench.Pass(TimeSpan.FromSeconds(2));
        Assert.Equal([$"{Some.Desk}/digest#0#1", $"{Some.Key(2)}#1#2", $"{Some.Desk}/digest#0#2"], bench.Sink.TakenIds);
    }

    [Fact]
    public async Task What_was_taken_is_not_sent_again_when_that_cannot_be_written()
    {
        var bench = new SinkBench();
        bench.History.CannotWrite = true;
        bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(2), 1));
        await bench.Pass(TimeSpan.FromMinutes(1));
        Assert.Equal(2, bench.Sink.Tries);
        Assert.Equal(2, bench.Orders.Count(order => order.Order is DeliveredOrder));

        bench.History.CannotWrite = false;
        await bench.Pass(TimeSpan.FromSeconds(10));
        Assert.Equal((2, 0), (bench.Sink.Tries, bench.History.CountWaiting("light")));
    }

    [Fact]
    public async Task What_could_not_be_recorded_is_sent_after_what_was_and_says_so()
    {
        var bench = new SinkBench();
        bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 2));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 1));
        await bench.Settle();
        Assert.Equal([0, 1, 2], bench.Sink.Taken.Select(alert => alert.Unrecorded));
        Assert.Equal([1L, 1L, 1L], bench.Sink.Taken.Select(alert => alert.Row));
        Assert.Equal([1, 2, 1], bench.Sink.Taken.Select(alert => alert.Alert.Told.Level.Transition));
        Assert.Equal(3, bench.Orders.Count(order => order.Order is DeliveredOrder));
    }

    [Fact]
    public async Task Alerts_go_out_while_the_history_can_be_neither_read_nor_written()
    {
        var bench = new SinkBench();
        bench.History.CannotRead = bench.History.CannotWrite = true;
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Settle();
        Assert.Single(bench.Sink.Taken);
    }

    [Fact]
    public async Task A_row_that_follows_an_unrecorded_change_waits_for_it()
    {
        var bench = new SinkBench();
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 5));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 1));
        bench.Telling.Unrecorded.Add(Some.Digest("light", 3, (Some.Key(4), 7)));
        await bench.Settle();
        // The history works again before the sink does.
        bench.History.Add(Some.Alert("light", Some.Key(1), 2), Some.Alert("light", Some.Key(4), 8));
        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        await bench.Pass(TimeSpan.FromSeconds(2));
        Assert.Equal([$"{Some.Key(2)}#3#5", $"{Some.Key(1)}#1#1", $"{Some.Key(1)}#1#2", $"{Some.Desk}/digest#0#3", $"{Some.Key(4)}#4#8"], bench.Sink.TakenIds);
    }

    [Fact]
    public async Task What_is_recorded_after_all_is_sent_once()
    {
        var bench = new SinkBench();
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 1));
        await bench.Settle();
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 2));
        bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(1), 2));
        await bench.Settle();
        Assert.Equal([(1, 1), (2, 0)], bench.Sink.Taken.Select(alert => (alert.Alert.Told.Level.Transition, alert.Unrecorded)));
        Assert.Equal(0, bench.History.CountWaiting("light"));
    }

    [Fact]
    public async Task At_the_start_and_when_unrecorded_alerts_are_lost_the_desks_hand_over_what_the_sink_does_not_know()
    {
        var bench = new SinkBench(numbers: new SinkNumbers { MostUnrecorded = 3 });
        await bench.Settle();
        Assert.Equal([("*", new SinkOrder("light", true, true))], bench.Orders);
        bench.Sink.Answer = (_, _) => ValueTask.FromResult(Refused);
        for (var number = 1; number <= 3; number++)
            bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(number), 1));
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 2));
        await bench.Settle();
        bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(4), 1));
        bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        await bench.Pass(TimeSpan.FromSeconds(2));
        Assert.Equal([$"{Some.Key(3)}#1#1", $"{Some.Key(2)}#1#2", $"{Some.Key(4)}#1#1"], bench.Sink.TakenIds);
        Assert.Equal([1, 0, 2], [bench.Sink.Taken[1].Gap, bench.Sink.Taken[0].Gap, bench.Orders.Count(order => order.Order is SinkOrder { IsUp: true, HasLostWaiting: true })]);
        Assert.Contains("+outbox-overflow:light", bench.Reports);
    }

    [Fact]
    public async Task Whatever_fails_everything_arrives_in_order_of_each_finding() =>
        await Gen.Int[1, 1_000_000].SampleAsync(async seed =>
        {
            var random = new Random(seed);
            var bench = new SinkBench { Statuses = [Some.Status()] };
            bench.Sink.Answer = (_, _) => ValueTask.FromResult(random.Next(2) == 0 ? Refused : Delivery.Taken);
            var transitions = new int[4];
            var expected = new List<string>();
            for (var number = 0; number < 60; number++)
            {
                var key = random.Next(transitions.Length);
                var alert = Some.Alert("light", Some.Key(key), ++transitions[key]);
                expected.Add(alert.Told.Id);
                bench.History.CannotWrite = random.Next(5) == 0 ? !bench.History.CannotWrite : bench.History.CannotWrite;
                if (bench.History.CannotWrite)
                    bench.Telling.Unrecorded.Add(alert);
                else
                    bench.History.Add(alert);
                await bench.Pass(TimeSpan.FromSeconds(random.Next(4)));
            }

            bench.History.CannotWrite = false;
            // Even where all was taken: what could not be noted as taken is noted now.
            var hours = 0;
            do
                await bench.Pass(TimeSpan.FromHours(1));
            while (++hours < 12 && bench.Sink.Taken.Count < expected.Count);
            Assert.Equal(expected.Order(StringComparer.Ordinal), bench.Sink.TakenIds.Order(StringComparer.Ordinal));
            foreach (var of in bench.Sink.Taken.GroupBy(alert => alert.Alert.Told.Key))
                Assert.Equal(Enumerable.Range(1, of.Count()), of.Select(alert => alert.Alert.Told.Level.Transition));
            Assert.Equal(0, bench.History.CountWaiting("light"));
        }, iter: 30, threads: 1);
}
