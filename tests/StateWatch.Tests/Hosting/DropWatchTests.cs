using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

public sealed class DropWatchTests
{
    [Fact]
    public void Lost_datagrams_are_told_until_none_was_lost_for_a_minute_also_over_a_new_link()
    {
        var clock = new FakeTimeProvider();
        var reports = new FakeReports();
        var lost = 0L;
        var drops = new DropWatch(() => [("house", lost), ("stage", 0)], reports, clock, NullLogger.Instance);
        clock.Advance(TimeSpan.FromSeconds(5));
        drops.Look();
        Assert.Empty(reports.Standing);
        lost = 7;
        drops.Look();
        Assert.Equal(["datagrams-dropped:house"], reports.Standing);
        // A new link counts from zero: that is no end of it, and the next one lost is one more.
        clock.Advance(TimeSpan.FromSeconds(50));
        lost = 0;
        drops.Look();
        lost = 1;
        drops.Look();
        clock.Advance(TimeSpan.FromSeconds(50));
        drops.Look();
        Assert.Single(reports.Standing);
        clock.Advance(TimeSpan.FromSeconds(10));
        drops.Look();
        Assert.Empty(reports.Standing);
    }
}
