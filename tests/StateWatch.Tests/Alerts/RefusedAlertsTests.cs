using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Alerts;

/// <summary>One alert that a receiver will never take holds up nothing behind it; in virtual time.</summary>
public sealed class RefusedAlertsTests
{
    private const string Finding = "alert-refused:light";
    private static readonly Delivery Refused = new(DeliveryOutcome.Refused, "the script: answered 400 BadRequest");
    private readonly SinkBench _bench = new();
    private readonly List<(double At, string Id)> _tries = [];

    [Fact]
    public async Task It_is_put_aside_after_three_tries_and_what_follows_goes_out()
    {
        Refuse(Some.Key(1));
        _bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(2), 1), Some.Alert("light", Some.Key(3), 1));

        await _bench.Pass(TimeSpan.FromMinutes(1));

        Assert.Equal([(0, Id(1)), (1, Id(1)), (6, Id(1)), (6, Id(2)), (6, Id(3))], _tries);
        Assert.Equal([1L], _bench.History.RefusedRows);
        Assert.Equal([2L, 3L], _bench.History.DeliveredRows);
        // To the desks it was never taken.
        Assert.Equal([Id(2), Id(3)], _bench.Orders.Select(static order => order.Order).OfType<DeliveredOrder>().Select(static order => order.Announcement.Id));
        Assert.Contains("+" + Finding, _bench.Reports);
        Assert.Contains(Id(1), _bench.Words[Finding].Text, StringComparison.Ordinal);
        Assert.Contains("400", _bench.Words[Finding].Text, StringComparison.Ordinal);
        Assert.True(_bench.Telling.State is { IsUp: true, Delivered: 2, ThrownAway: 0 });
    }

    [Fact]
    public async Task What_was_not_taken_is_offered_again_each_hour_until_nothing_is_refused()
    {
        Refuse(Some.Key(1));
        _bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await _bench.Pass(TimeSpan.FromMinutes(59));
        Assert.Equal(1, Offers()); // the one of the start

        await _bench.Pass(TimeSpan.FromMinutes(2));
        Assert.Equal(2, Offers());
        Assert.DoesNotContain("-" + Finding, _bench.Reports);
        _bench.Sink.Answer = static (_, _) => ValueTask.FromResult(Delivery.Taken);
        _bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await _bench.Pass(TimeSpan.FromHours(4));
        Assert.Equal([Id(1)], _bench.Sink.TakenIds);
        Assert.Equal(2, Offers());
        Assert.Equal("-" + Finding, _bench.Reports[^1]);
    }

    [Fact]
    public async Task The_findings_of_a_digest_are_offered_again_at_once_each_for_itself()
    {
        await _bench.Settle();
        Refuse($"{Some.Desk}/digest");
        _bench.History.Add(Some.Digest("light", 1, (Some.Key(1), 1), (Some.Key(2), 1)));
        await _bench.Pass(TimeSpan.FromMinutes(1));
        Assert.Equal(2, Offers()); // the first at the start
        Assert.Equal([1L], _bench.History.RefusedRows);
    }

    [Fact]
    public async Task Other_failures_between_put_nothing_aside_and_a_busy_receiver_never_does()
    {
        var answers = new Queue<Delivery>([Refused, Busy, Refused, Busy, Busy, Busy, Delivery.Taken]);
        _bench.Sink.Answer = (_, _) => ValueTask.FromResult(answers.Dequeue());
        _bench.History.Add(Some.Alert("light", Some.Key(1), 1));
        await _bench.Pass(TimeSpan.FromHours(1));
        Assert.Equal([Id(1)], _bench.Sink.TakenIds);
        Assert.Empty(_bench.History.RefusedRows);
    }

    [Fact]
    public async Task What_was_put_aside_is_not_sent_again_when_that_cannot_be_written()
    {
        Refuse(Some.Key(1));
        _bench.History.CannotWrite = true;
        _bench.History.Add(Some.Alert("light", Some.Key(1), 1), Some.Alert("light", Some.Key(2), 1));
        await _bench.Pass(TimeSpan.FromMinutes(10));
        Assert.Equal(4, _tries.Count);
        _bench.History.CannotWrite = false;
        await _bench.Pass(TimeSpan.FromSeconds(10));
        Assert.Equal((4, 0), (_tries.Count, _bench.History.CountWaiting("light")));
    }

    [Fact]
    public async Task What_is_in_memory_only_holds_up_nothing_either()
    {
        Refuse(Some.Key(1));
        _bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(1), 1));
        _bench.Telling.Unrecorded.Add(Some.Alert("light", Some.Key(2), 1));
        await _bench.Pass(TimeSpan.FromMinutes(1));
        Assert.Equal([Id(2)], _bench.Sink.TakenIds);
        Assert.Equal(0, _bench.Telling.Unrecorded.Count);
    }

    private static Delivery Busy => new(DeliveryOutcome.Retry, "busy");

    private static string Id(int number) => $"{Some.Key(number)}#1#1";

    private int Offers() => _bench.Orders.Count(static order => order.Order is SinkOrder { IsUp: true, HasLostWaiting: true });

    private void Refuse(string key) => _bench.Sink.Answer = (waiting, _) =>
    {
        var told = waiting.Alert.Told;
        _tries.Add(((_bench.Clock.GetUtcNow() - Some.Start).TotalSeconds, told.Id));
        return ValueTask.FromResult(told.Key == key ? Refused : Delivery.Taken);
    };
}
