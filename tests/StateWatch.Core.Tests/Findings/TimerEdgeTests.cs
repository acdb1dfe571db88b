using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>Every timer a thousandth of a second before its end, and at it.</summary>
public class TimerEdgeTests
{
    private const double Tick = 0.001;

    [Theory]
    [InlineData(TimerClass.Switch, 0.3, 2)]
    [InlineData(TimerClass.Continuous, 2, 5)]
    [InlineData(TimerClass.Structural, 1, 5)]
    public void A_finding_is_raised_and_cleared_exactly_when_its_class_says(TimerClass timers, double on, double off)
    {
        var vigil = new Vigil(new WatchedCheck("off:input/1", timers));
        vigil.Drift();
        Assert.Equal(vigil.Now.Clock + TimeSpan.FromSeconds(Math.Min(on, 0.5)), vigil.Ledger.NextDue);
        vigil.Wait(on - Tick);
        Assert.Equal(Condition.Pending, vigil[0].Condition);
        vigil.Wait(Tick);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        vigil.Match();
        vigil.Wait(off - Tick);
        Assert.Equal(Condition.Clearing, vigil[0].Condition);
        vigil.Wait(Tick);
        Assert.Equal(Condition.Normal, vigil[0].Condition);
    }

    [Theory]
    [InlineData(15, null, 15, 5)]
    [InlineData(0, 0.7, 0, 0.7)]
    [InlineData(-3, 1e9, 0, 86_400)] // what storage damaged
    public void Delays_of_its_own_outweigh_those_of_its_class(double on, double? off, double raised, double cleared)
    {
        var vigil = new Vigil(new WatchedCheck("level-guard:input/1", TimerClass.Continuous, OwnOnDelay: TimeSpan.FromSeconds(on), OwnOffDelay: off is { } own ? TimeSpan.FromSeconds(own) : null));
        vigil.Drift();
        if (raised > 0)
        {
            vigil.Wait(raised - Tick);
            Assert.Equal(Condition.Pending, vigil[0].Condition);
            vigil.Wait(Tick);
        }

        Assert.Equal(Condition.Active, vigil[0].Condition);
        vigil.Match();
        vigil.Wait(cleared - Tick);
        Assert.Equal(Condition.Clearing, vigil[0].Condition);
        vigil.Wait(Tick);
        Assert.Equal(Condition.Normal, vigil[0].Condition);
    }

    [Fact]
    public void A_plan_read_anew_that_asks_for_less_time_raises_when_the_desk_is_still_off_by_it()
    {
        var vigil = new Vigil(new WatchedCheck("level-guard:input/1", TimerClass.Continuous, OwnOnDelay: TimeSpan.FromSeconds(60)));
        vigil.Drift();
        vigil.Wait(20);
        vigil.Checks = [vigil.Checks[0] with { OwnOnDelay = TimeSpan.FromSeconds(15) }];
        vigil.Ledger.Reload(vigil.Checks, vigil.Now);
        vigil.HandInEverything();
        Assert.Equal(Condition.Active, vigil[0].Condition);
    }

    [Fact]
    public void Nothing_is_told_before_the_gather_in_which_it_began_is_over()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Wait(0.5 - Tick);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        Assert.Empty(vigil.Told());
        vigil.Wait(Tick);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void It_does_not_matter_how_often_time_is_handed_in()
    {
        var (often, seldom) = (new Vigil(), new Vigil());
        foreach (var vigil in (Vigil[])[often, seldom])
            vigil.Drift();
        for (var step = 0; step < 1300; step++)
            often.Wait(1);
        seldom.Wait(1300);
        Assert.Equal(often.Told(), seldom.Told());
        Assert.Equal(often.All.Select(static one => (one.Id, one.At)), seldom.All.Select(static one => (one.Id, one.At)));
    }

    [Fact]
    public void Fresh_drift_adds_up_over_what_is_not_known_and_nothing_else_does()
    {
        var vigil = new Vigil(new WatchedCheck("off:input/1", TimerClass.Continuous));
        vigil.Drift();
        vigil.Wait(1.5);
        vigil.Unknown();
        vigil.Wait(60);
        vigil.Drift();
        vigil.Wait(0.5 - Tick);
        Assert.Equal(Condition.Pending, vigil[0].Condition);
        vigil.Wait(Tick);
        Assert.Equal(Condition.Active, vigil[0].Condition);
    }

    [Fact]
    public void Clearing_begins_anew_when_its_match_was_interrupted()
    {
        var vigil = Raised();
        vigil.Match();
        vigil.Wait(1.9);
        vigil.Unknown();
        vigil.Wait(1);
        vigil.Match();
        vigil.Wait(2 - Tick);
        Assert.Equal(Condition.Clearing, vigil[0].Condition);
        vigil.Wait(Tick);
        Assert.Equal(Condition.Normal, vigil[0].Condition);
    }

    [Fact]
    public void Only_a_match_in_the_inner_band_begins_to_clear_and_any_match_goes_on()
    {
        var vigil = Raised();
        vigil.Say(0, Reading.OuterMatch);
        vigil.Wait(60);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        vigil.Match();
        vigil.Wait(1);
        vigil.Say(0, Reading.OuterMatch);
        vigil.Wait(1);
        Assert.Equal(Condition.Normal, vigil[0].Condition);
    }

    [Theory]
    [InlineData(60, 1)]
    [InlineData(60 + Tick, 2)]
    public void What_drifts_again_within_a_minute_goes_on_with_the_same_episode(double pause, int episode)
    {
        var vigil = Raised();
        vigil.Match();
        vigil.Wait(2);
        vigil.Wait(pause);
        vigil.Drift();
        vigil.Wait(0.5);
        Assert.Equal(episode, vigil[0].Episode);
        Assert.Equal(["raised muted:input/1", "cleared muted:input/1", "raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void An_acknowledgement_expires_after_twenty_minutes()
    {
        var vigil = Raised();
        vigil.Told();
        Assert.Equal(CommandOutcome.Done, vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now));
        Assert.Equal(["acknowledged muted:input/1"], vigil.Told());
        vigil.Wait(1200 - Tick);
        Assert.Equal(Attention.Acked, vigil[0].Attention);
        Assert.Empty(vigil.Told());
        vigil.Wait(Tick);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Theory]
    [InlineData(Severity.Urgent, 0)]
    [InlineData(Severity.Warning, 1)]
    public void An_acknowledgement_ends_when_it_gets_worse(Severity severity, int band)
    {
        var vigil = new Vigil();
        vigil.Drift(severity: Severity.Warning);
        vigil.Wait(1);
        vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now);
        vigil.Drift(severity: severity, band: band);
        Assert.Equal(Attention.Unacked, vigil[0].Attention);
    }

    [Fact]
    public void An_acknowledgement_of_what_was_over_does_not_count_for_what_comes_back_worse()
    {
        var vigil = new Vigil(new WatchedCheck("howl:input/1", TimerClass.Switch, IsLatching: true));
        vigil.Drift(severity: Severity.Warning);
        vigil.Wait(1);
        vigil.Match();
        vigil.Wait(3);
        vigil.Drift(severity: Severity.Urgent);
        vigil.Ledger.Acknowledge(vigil.KeyOf(0), "Ada", vigil.Now);
        vigil.Wait(1);
        Assert.Equal((1, Attention.Unacked), (vigil[0].Episode, vigil[0].Attention));
        Assert.Equal(["raised howl:input/1", "lapsed howl:input/1", "raised howl:input/1"], vigil.Told());
    }

    [Theory]
    [InlineData(Severity.Notice, 1)]
    [InlineData(Severity.Warning, 0)]
    public void An_acknowledgement_stays_when_it_does_not_get_worse(Severity severity, int band)
    {
        var vigil = new Vigil();
        vigil.Drift(severity: Severity.Warning, band: 1);
        vigil.Wait(1);
        vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now);
        vigil.Drift(severity: severity, band: band);
        Assert.Equal(Attention.Acked, vigil[0].Attention);
    }

    [Fact]
    public void A_shelf_ends_after_thirty_minutes_and_the_standing_problem_is_told()
    {
        var vigil = Raised();
        vigil.Told();
        vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare microphone", null, false, vigil.Now);
        Assert.Equal(["held muted:input/1"], vigil.Told());
        vigil.Wait(1800 - Tick);
        Assert.Empty(vigil.Told());
        vigil.Wait(Tick);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void No_shelf_outlasts_the_event()
    {
        var vigil = Raised();
        vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare microphone", TimeSpan.FromHours(8), false, vigil.Now);
        vigil.Ledger.EventEnds(vigil.Now.Wall + TimeSpan.FromMinutes(5), vigil.Now);
        vigil.Wait(300 - Tick);
        Assert.Equal(Holds.Shelved, vigil[0].Holds);
        vigil.Wait(Tick);
        Assert.Equal(Holds.None, vigil[0].Holds);
        Assert.Equal(CommandOutcome.EventOver, vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare microphone", null, false, vigil.Now));
    }

    [Fact]
    public void A_one_shot_shelf_is_for_this_episode_only()
    {
        var vigil = Raised();
        vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare microphone", TimeSpan.FromHours(1), true, vigil.Now);
        vigil.Match();
        vigil.Wait(2);
        vigil.Wait(30);
        vigil.Drift();
        vigil.Wait(1);
        Assert.Equal((1, Holds.Shelved), (vigil[0].Episode, vigil[0].Holds));
        vigil.Match();
        vigil.Wait(90);
        vigil.Told();
        vigil.Drift();
        vigil.Wait(1);
        Assert.Equal((2, Holds.None), (vigil[0].Episode, vigil[0].Holds));
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void Without_a_full_read_settling_ends_after_thirty_seconds_and_the_view_is_called_incomplete()
    {
        var vigil = Raised();
        vigil.Restart(1);
        vigil.Ledger.LinkUp(1, vigil.Now);
        vigil.Drift();
        vigil.Wait(30 - Tick);
        Assert.True(vigil.Ledger.IsSettling);
        Assert.Empty(vigil.Told());
        vigil.Wait(Tick);
        Assert.False(vigil.Ledger.IsSettling);
        Assert.Equal(Evidence.Fresh, vigil[0].Evidence);
        Assert.Equal(["raised incomplete-view:desk"], vigil.Told());
        vigil.Ledger.SnapshotDone(1, vigil.Now);
        Assert.Equal(["cleared incomplete-view:desk"], vigil.Told());
    }

    private static Vigil Raised()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Wait(1);
        return vigil;
    }
}
