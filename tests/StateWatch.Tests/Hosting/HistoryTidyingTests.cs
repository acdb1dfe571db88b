using System.Collections.Concurrent;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.History;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>The history is tidied soon after the start, when the disk is full and every hour, beside everything else.</summary>
public sealed class HistoryTidyingTests : IDisposable
{
    private readonly WaitedTime _clock = new();
    private readonly RecordingHistory _history = new();
    private readonly HistoryTidying _tidying;
    private bool _isTrusted = true;

    public HistoryTidyingTests() => _tidying = new HistoryTidying(_history, () => _isTrusted, NullLogger.Instance, _clock);

    public void Dispose() => _tidying.Dispose();

    [Fact]
    public void It_begins_a_minute_after_the_start_and_goes_on_every_hour()
    {
        _tidying.Start();
        Assert.Equal(TimeSpan.FromMinutes(1), _clock.Pass());
        Assert.Equal(TimeSpan.FromMinutes(1), _clock.Pass()); // not again at once, whatever is said
        Assert.Single(_history.Tidied);
        Assert.Equal(TimeSpan.FromHours(1), _clock.Pass());
        _clock.Pass();
        Assert.Equal(2, _history.Tidied.Count);
    }

    [Fact]
    public void Full_disk_is_no_reason_to_wait_for_the_hour()
    {
        _tidying.Start();
        _clock.Pass();
        _clock.Pass();
        Assert.Equal(TimeSpan.FromHours(1), _clock.Await());
        _tidying.Full();
        _tidying.Full();
        Assert.Equal(TimeSpan.FromMinutes(1), _clock.Await());
        Assert.Equal(2, _history.Tidied.Count);
    }

    [Fact]
    public void Fault_is_told_and_the_next_time_it_is_tried_again()
    {
        _history.TidyingBreaks = new InvalidOperationException("a fault of ours");
        _tidying.Start();
        for (var wait = 0; wait < 4; wait++)
            _clock.Pass();
        Assert.Equal(2, _history.Tidied.Count);
    }

    [Fact]
    public void Clock_that_is_not_synchronised_is_not_trusted()
    {
        _isTrusted = false;
        _tidying.Tidy();
        Assert.False(Assert.Single(_history.Tidied).IsClockTrusted);
    }

    [Fact]
    public void Disk_that_is_full_asks_for_it()
    {
        var asked = 0;
        using var writer = new HistoryWriter(_history, new FakeReports(), NullLogger.Instance, _clock) { Full = () => asked++ };
        var slot = writer.AddSlot("here/house");
        _history.Fails = true;
        slot.Put(FakeTurns.Output(1));
        writer.Store();
        Assert.Equal(1, asked);
        _history.Fails = false;
        _history.Breaks = new HistoryException("the server does not answer");
        writer.Store();
        Assert.Equal(1, asked);
    }

    // Time that passes when somebody waits for it.
    private sealed class WaitedTime : FakeTimeProvider
    {
        private readonly BlockingCollection<TimeSpan> _waits = [];

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            var timer = base.CreateTimer(callback, state, dueTime, period);
            _waits.Add(dueTime);
            return timer;
        }

        /// <summary>The next wait that began.</summary>
        public TimeSpan Await() => _waits.TryTake(out var wait, FakeTurns.Ceiling) ? wait : throw new TimeoutException("nobody waits");

        /// <summary>Lets it pass.</summary>
        public TimeSpan Pass()
        {
            var wait = Await();
            Advance(wait);
            return wait;
        }
    }
}
