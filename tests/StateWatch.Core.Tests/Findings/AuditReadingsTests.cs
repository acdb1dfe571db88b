using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Auditing.Live;

namespace StateWatch.Core.Tests.Findings;

/// <summary>From the settings of a desk to what is told.</summary>
public class AuditReadingsTests
{
    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Every_check_of_a_show_has_a_key_of_its_own(string show)
    {
        var desk = new LiveDesk(ShippedShow.Of(show).Plan(Phase.Show, null));
        var checks = AuditReadings.ChecksOf(desk.Live, desk.State);
        Assert.Equal(desk.Live.Count, checks.DistinctBy(static check => check.Id, StringComparer.Ordinal).Count());
        Assert.All(checks, static check => Assert.Matches("^[a-z-]+:.+", check.Id));
        Assert.Equal([TimerClass.Switch, TimerClass.Continuous, TimerClass.Structural], checks.Select(static check => check.Timers).Distinct().Order());
    }
}
