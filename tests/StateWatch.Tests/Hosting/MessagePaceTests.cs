using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Hosting;
using StateWatch.Simulator;

namespace StateWatch.Tests.Hosting;

/// <summary>What a show sends at one moment is taken whole, and a flood is not.</summary>
public sealed class MessagePaceTests
{
    private static readonly WatchOrder Show = new PhaseOrder(Phase.Show, "message");
    private static readonly WatchOrder Storm = new CueOrder("storm", "message");
    private readonly VirtualClock _clock = new(new DateTimeOffset(2026, 11, 26, 9, 0, 0, TimeSpan.Zero));

    [Fact]
    public void Phase_and_cue_of_one_moment_are_both_given()
    {
        var pace = new MessagePace(_clock);
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/desk", Show));
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/desk", Storm));
    }

    [Fact]
    public void Message_that_is_sent_three_times_is_given_once()
    {
        var pace = new MessagePace(_clock);
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/desk", Storm));
        Wait(20);
        Assert.Equal(MessageAdmission.Echo, pace.Ask("hall/desk", Storm));
        Wait(20);
        Assert.Equal(MessageAdmission.Echo, pace.Ask("hall/desk", Storm));
        Wait(100);
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/desk", Storm));
    }

    [Fact]
    public void Flood_is_left_out_and_told_once_until_it_is_over()
    {
        var pace = new MessagePace(_clock);
        var answers = Enumerable.Range(0, 1000).Select(number => pace.Ask("hall/desk", number % 2 == 0 ? Show : Storm)).ToList();
        Assert.Equal(MessagePace.AtOnce, answers.Count(static answer => answer == MessageAdmission.Give));
        Assert.Single(answers, MessageAdmission.FirstTooMany);
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/other", Show));
        Wait(250);
        Assert.Equal([MessageAdmission.Give, MessageAdmission.Give, MessageAdmission.TooMany], [pace.Ask("hall/desk", Show), pace.Ask("hall/desk", Storm), pace.Ask("hall/desk", Show)]);
        Wait(2000);
        Assert.Equal(MessageAdmission.Give, pace.Ask("hall/desk", Show));
        answers = [.. Enumerable.Range(0, 20).Select(number => pace.Ask("hall/desk", number % 2 == 0 ? Storm : Show))];
        Assert.Single(answers, MessageAdmission.FirstTooMany);
    }

    private void Wait(int milliseconds) => _clock.AdvanceTo(_clock.GetTimestamp() + (milliseconds * TimeSpan.TicksPerMillisecond));
}
