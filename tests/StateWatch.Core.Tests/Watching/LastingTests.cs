using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>What only a watch knows: how long things last, how loud they were, and who is to be told.</summary>
public class LastingTests
{
    private const string SendsOnFader = "desk/sends-on-fader";

    [Fact]
    public void What_people_do_for_a_moment_in_a_show_counts_in_full_when_it_lasts()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(SendsOnFader, "on");
        show.Run(20);
        show.Set(SendsOnFader, "off");
        show.Run(20);
        Assert.All(show.Alerts, static alert => Assert.Equal(Severity.Notice, alert.Told.Level.Severity));
        show.Set(SendsOnFader, "on");
        show.Run(61.5);
        Assert.Equal(Severity.Warning, show.Alerts.Last().Told.Level.Severity);
    }

    [Fact]
    public void Sink_that_is_told_warnings_hears_nothing_of_what_is_a_notice_and_is_cleared_of_what_becomes_one()
    {
        var plan = WatchedShow.PlanOf(DemoShow.PlanText);
        using var show = new WatchedShow(Desks.Following.FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(Phase.Show))), plan, Phase.Show, sinks: [new LedgerSink("phone", Severity.Warning)]);
        show.Run(5);
        show.Set(SendsOnFader, "on");
        show.Run(20);
        Assert.Empty(show.Told);
        Assert.Single(show.Watch.Status.Standing);
        show.Run(60);
        Assert.Equal(LevelKind.Raised, Assert.Single(show.Alerts).Told.Level.Kind);
        show.Set(SendsOnFader, "off");
        show.Run(20);
        Assert.Equal(LevelKind.None, show.Alerts.Last().Told.Level.Kind);

        show.Set("input/12/send/mix/3/tap", "post-fader");
        show.Run(10);
        Assert.Equal(3, show.Alerts.Count());
        // A tap off plan is a notice while the stage is rigged.
        Assert.True(show.Begin(Phase.Build).IsDone);
        show.Run(10);
        Assert.Equal(LevelKind.None, show.Alerts.Last().Told.Level.Kind);
        Assert.Single(show.Watch.Status.Standing);
        Assert.True(show.Begin(Phase.Show).IsDone);
        show.Run(10);
        Assert.Equal((LevelKind.Raised, 5), (show.Alerts.Last().Told.Level.Kind, show.Alerts.Count()));
        Assert.Equal(show.Alerts.Select(static alert => alert.Told.Id), show.Alerts.Select(static alert => alert.Told.Id).Distinct());
    }

    [Fact]
    public void Guard_measures_from_how_loud_it_was_when_the_soundcheck_ended()
    {
        var weekly = ShippedShow.Of("saltmarsh-weekly");
        var plan = new WatchedPlan(weekly.Document(weekly.PlanText)!, weekly.Profile, "0123456789abcdef");
        using var show = new WatchedShow(Desks.Following.FollowedDesk.SetAs(DemoShow.PlannedDesk(weekly.Plan(Phase.Soundcheck))), plan, Phase.Soundcheck);
        show.Run(5);
        show.Set("input/29/fader", "5 dB");
        show.Run(5);
        Assert.True(show.Begin(Phase.Doors).IsDone);
        Assert.Contains(show.Happenings, static happening => happening.Kind == ShowEventKind.BaselineTaken);
        Assert.True(show.Begin(Phase.Show).IsDone);
        show.Run(60);
        Assert.DoesNotContain(show.Told, static told => told.StartsWith("level-guard", StringComparison.Ordinal));

        // 4 dB up is allowed, and it stood at 5 dB.
        show.Set("input/29/fader", "10 dB");
        show.Run(14);
        Assert.DoesNotContain(show.Told, static told => told.StartsWith("level-guard", StringComparison.Ordinal));
        show.Run(4);
        Assert.Contains("level-guard:input/29/fader Raised", show.Told);
        Assert.Contains("than at the end of soundcheck", show.Alerts.Last(static alert => alert.Told.Key.Contains("level-guard", StringComparison.Ordinal)).Words!.Text, StringComparison.Ordinal);
    }
}
