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
    public void What_lasts_goes_on_over_a_plan_read_anew_a_cue_and_a_restart()
    {
        var plan = WatchedShow.PlanOf($"{DemoShow.PlanText}\ncues: {{ Song: {{ settings: {{ \"input/1/low-cut\": on }} }} }}\n");
        using var show = new WatchedShow(Desks.Following.FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(Phase.Show))), plan, Phase.Show);
        show.Run(5);
        show.Set(SendsOnFader, "on");
        show.Run(62);
        Assert.Equal([Severity.Notice, Severity.Warning], show.Alerts.Select(static alert => alert.Told.Level.Severity));
        Assert.True(show.Order(reply => new ReloadOrder(show.Watch.Plan, null, "reload") { Reply = reply }).IsDone);
        show.Run(1);
        Assert.True(show.Cue("Song").IsDone);
        show.Set("input/1/low-cut", "on");
        show.Run(70);
        Assert.Equal(2, show.Alerts.Count());

        using var again = new WatchedShow(show.Desk, show.Watch.Plan, Phase.Show, show.Watch.Export(), new Simulator.MemoryDeskReader(show.Desk));
        again.Run(70);
        Assert.Empty(again.Told);
        Assert.Equal(Severity.Warning, Assert.Single(again.Watch.Status.Standing).Record.Severity);
    }

    [Theory]
    [InlineData(70)]
    [InlineData(30)]
    public void What_lasts_goes_on_over_a_desk_that_was_away(double before)
    {
        using var show = WatchedShow.Midwinter();
        show.Set(SendsOnFader, "on");
        show.Run(before);
        show.Desk.Silent = true;
        show.Run(60);
        show.Desk.Silent = false;
        // What nobody saw is no time that it lasted.
        show.Run(before < 60 ? 25 : 5);
        Assert.Equal(before < 60 ? Severity.Notice : Severity.Warning, show.Watch.Status.Standing.Single(static one => one.Record.Key.EndsWith(SendsOnFader, StringComparison.Ordinal)).Record.Severity);
        show.Run(60);
        Assert.Equal([Severity.Notice, Severity.Warning], show.Alerts.Where(static alert => alert.Told.Key.EndsWith(SendsOnFader, StringComparison.Ordinal)).Select(static alert => alert.Told.Level.Severity));
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
        Assert.Equal((LevelKind.None, "less-severe"), (show.Alerts.Last().Told.Level.Kind, show.Alerts.Last().Told.Why));
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
