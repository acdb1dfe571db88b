using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Desks.Following;
using StateWatch.Core.Watching;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Watching;

/// <summary>From when guards measure: from the end of this show's soundcheck, or from the plan, and never from the soundcheck of another show.</summary>
public class BaselineTests
{
    private const string Fader = "input/29/fader";
    private static readonly ShippedShow Weekly = ShippedShow.Of("saltmarsh-weekly");

    [Fact]
    public void Desk_that_is_away_when_soundcheck_ends_is_measured_from_what_it_has_when_it_was_read()
    {
        using var show = Watch(Phase.Soundcheck);
        show.Run(5);
        show.Set(Fader, "5 dB");
        show.Desk.Silent = true;
        show.Run(60);
        Assert.True(show.Begin(Phase.Doors).IsDone);
        Assert.True(show.Watch.Export().Standing is { AwaitsBaseline: true, Baseline: [] });
        show.Desk.Silent = false;
        show.Run(60);
        Assert.Contains("when the desk was read", Assert.Single(show.Happenings, static line => line.Kind == ShowEventKind.BaselineTaken).Text, StringComparison.Ordinal);
        Assert.False(show.Watch.Export().Standing.AwaitsBaseline);
        Assert.True(show.Begin(Phase.Show).IsDone);
        show.Run(60);
        Assert.DoesNotContain(show.Told, static told => told.StartsWith("level-guard", StringComparison.Ordinal));
        show.Set(Fader, "10 dB");
        show.Run(30);
        Assert.Contains("than at the end of soundcheck", Guarded(show).Words!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Desk_that_is_not_back_before_the_show_is_measured_from_the_plan_and_that_is_told()
    {
        using var show = Watch(Phase.Soundcheck);
        show.Run(5);
        show.Set(Fader, "10 dB");
        show.Desk.Silent = true;
        show.Run(60);
        Assert.True(show.Begin(Phase.Doors).IsDone);
        Assert.True(show.Begin(Phase.Show).IsDone);
        Assert.Contains("guards measure from the plan", Assert.Single(show.Happenings, static line => line.Kind == ShowEventKind.BaselineMissed).Text, StringComparison.Ordinal);
        show.Desk.Silent = false;
        show.Run(60);
        Assert.Contains("than planned", Guarded(show).Words!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Next_build_forgets_the_levels_of_this_show()
    {
        using var show = Watch(Phase.Soundcheck);
        show.Run(5);
        Assert.True(show.Begin(Phase.Doors).IsDone);
        Assert.NotEmpty(show.Watch.Export().Standing.Baseline);
        Assert.True(show.Begin(Phase.Build).IsDone);
        Assert.True(show.Watch.Export().Standing is { Baseline: [], BaselineAt: null });
    }

    [Theory]
    [InlineData(7 * 24, true)]
    [InlineData(14, false)]
    public void Levels_of_another_week_are_forgotten_when_the_watch_begins_again(int hours, bool isForgotten)
    {
        StoredDesk stored;
        using (var show = Watch(Phase.Soundcheck))
        {
            show.Run(5);
            Assert.True(show.Begin(Phase.Doors).IsDone);
            stored = show.Watch.Export();
        }

        using var again = Watch(Phase.Show, stored, hours);
        again.Run(1);
        Assert.Equal(isForgotten, again.Watch.Export().Standing.Baseline.Count == 0);
        Assert.Equal(isForgotten ? 1 : 0, again.Happenings.Count(static line => line.Kind == ShowEventKind.BaselineMissed));
    }

    [Fact]
    public void Watch_that_ran_all_week_forgets_them_when_doors_begin_without_a_soundcheck()
    {
        StoredDesk stored;
        using (var show = Watch(Phase.Soundcheck))
        {
            show.Run(5);
            Assert.True(show.Begin(Phase.Show).IsDone);
            stored = show.Watch.Export();
        }

        using var again = Watch(Phase.Show, stored, 14);
        again.Run(1);
        Assert.NotEmpty(again.Watch.Export().Standing.Baseline);
        ((VirtualClock)again.Link.Clock).AdvanceTo(again.Link.Clock.GetTimestamp() + TimeSpan.FromDays(6).Ticks);
        Assert.True(again.Begin(Phase.Doors).IsDone);
        Assert.Empty(again.Watch.Export().Standing.Baseline);
        Assert.Contains(again.Happenings, static line => line.Kind == ShowEventKind.BaselineMissed);
    }

    private static Alert Guarded(WatchedShow show) => show.Alerts.Last(static alert => alert.Told.Key.Contains("level-guard", StringComparison.Ordinal) && alert.Told.Level.Kind == LevelKind.Raised);

    private static WatchedShow Watch(Phase phase, StoredDesk? stored = null, int hours = 0)
    {
        var plan = new WatchedPlan(Weekly.Document(Weekly.PlanText)!, Weekly.Profile, "0123456789abcdef");
        var desk = FollowedDesk.SetAs(DemoShow.PlannedDesk(Weekly.Plan(Phase.Soundcheck)));
        var link = new MemoryDeskReader(desk, clock: stored is null ? null : new VirtualClock(stored.Ledger.Ledger.At.Wall.AddHours(hours)));
        return new WatchedShow(desk, plan, phase, stored, link);
    }
}
