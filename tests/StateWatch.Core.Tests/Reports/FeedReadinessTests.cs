using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class FeedReadinessTests
{
    [Theory]
    [InlineData("output/stage-5/limiter/in", "off", "wedges")]
    [InlineData("input/39/assign/main/1", "on", "room overflow fills")]
    [InlineData("input/20/send/mix/15/on", "on", "subs")]
    [InlineData("socket/stage-33/phantom", "on", "ears-a ears-b")]
    [InlineData("input/25/dca/2", "on", "")]
    [InlineData("input/3/name", "Snare", "")]
    [InlineData("desk/oscillator", "on", "room subs fills wedges ears-a ears-b stream loop overflow")]
    [InlineData("input/15/send/mix/13/tap", "pre-fader", "room fills stream overflow")]
    public void A_feed_is_not_ready_when_what_is_wrong_is_heard_there(string setting, string value, string feeds)
    {
        var midwinter = new Midwinter().With(setting, value);
        if (setting == "input/20/send/mix/15/on")
            midwinter.With("input/20/send/mix/15/level", "-5 dB");
        Assert.Equal(feeds.Split(' ', StringSplitOptions.RemoveEmptyEntries).Order(), Of(midwinter.Sweep(), FeedState.NotReady));
    }

    [Fact]
    public void A_feed_is_not_certain_when_something_heard_there_was_not_seen()
    {
        // Overhead L is planned in the instrument group, drum squash and both ears; the groups lead to room and stream, the room to fills and overflow.
        Assert.Equal(["ears-a", "ears-b", "fills", "overflow", "room", "stream"], Of(Results.Of("partial"), FeedState.NotSeen));
    }

    [Theory]
    [InlineData("silent")]
    [InlineData("another-desk")]
    public void No_feed_is_ready_when_nothing_was_read(string name)
    {
        Assert.Equal(9, Of(Results.Of(name), FeedState.NotSeen).Count);
    }

    [Fact]
    public void All_are_ready_on_a_desk_as_planned()
    {
        Assert.Equal(9, Of(Results.Of("clean"), FeedState.Ready).Count);
    }

    private static List<string> Of(SweepResult result, FeedState state) =>
        [.. FeedReadiness.Of(result).Where(status => status.State == state).Select(status => status.Feed.Key).Order()];
}
