using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>How much a finding that stands matters: at once as much as it gets, less only after a while, and in full when it lasts.</summary>
public class WeightTests
{
    private static readonly WatchedCheck Margin = new("feedback-margin:input/1", TimerClass.Continuous, OwnOffDelay: TimeSpan.FromSeconds(30));
    private static readonly Reading Momentary = Reading.Drift(Severity.Notice) with { Lasting = Severity.Warning };

    private static Vigil Raised(Severity severity)
    {
        var vigil = new Vigil(Margin);
        vigil.Drift(severity: severity);
        vigil.Wait(3);
        Assert.Single(vigil.Told());
        return vigil;
    }

    private static void Ride(Vigil vigil, int times, double up, double down)
    {
        for (var time = 0; time < times; time++)
        {
            vigil.Drift(severity: Severity.Urgent);
            vigil.Wait(up);
            vigil.Drift(severity: Severity.Notice);
            vigil.Wait(down);
        }
    }

    [Fact]
    public void What_gets_worse_is_told_at_once_and_what_gets_better_when_it_stays_so()
    {
        var vigil = Raised(Severity.Notice);
        vigil.Drift(severity: Severity.Urgent);
        Assert.Equal(["raised feedback-margin:input/1"], vigil.Told());
        vigil.Drift(severity: Severity.Notice);
        vigil.Wait(29.9);
        Assert.Empty(vigil.Told());
        Assert.Equal(Severity.Urgent, vigil[0].Severity);
        vigil.Wait(0.2);
        Assert.Equal(["raised feedback-margin:input/1"], vigil.Told());
        Assert.Equal(Severity.Notice, vigil.All[^1].Level.Severity);
    }

    [Fact]
    public void Fader_that_is_ridden_over_an_edge_is_told_once()
    {
        var vigil = Raised(Severity.Notice);
        Ride(vigil, 200, 0.7, 0.6);
        Assert.Equal(["raised feedback-margin:input/1"], vigil.Told());
        Assert.Equal(Severity.Urgent, vigil[0].Severity);
    }

    // One each 32 s adds up to 1 / (1 - 2^(-32/120)) = 5.9 (geometric series); with the raise, four are reached with the fifth.
    [Fact]
    public void What_gets_worse_again_and_again_is_called_unstable()
    {
        var vigil = Raised(Severity.Notice);
        Ride(vigil, 4, 1, 31);
        Assert.Equal(Enumerable.Repeat("raised feedback-margin:input/1", 8), vigil.Told());
        Ride(vigil, 20, 1, 31);
        var told = vigil.Told();
        Assert.Equal("unstable feedback-margin:input/1", told[^1]);
        // Ten minutes, in which it is told once and each minute again.
        Assert.InRange(told.Count, 9, 13);
        vigil.Wait(900);
        Assert.Equal(("raised feedback-margin:input/1", Severity.Notice), (vigil.Told()[^1], vigil.All[^1].Level.Severity));
    }

    [Fact]
    public void What_comes_and_goes_with_any_weight_is_called_unstable_with_its_gravest()
    {
        var vigil = new Vigil(Margin with { OwnOnDelay = TimeSpan.Zero, OwnOffDelay = TimeSpan.Zero });
        for (var time = 0; time < 12; time++)
        {
            vigil.Drift(severity: time % 2 == 0 ? Severity.Urgent : Severity.Notice);
            vigil.Wait(1);
            vigil.Match();
            vigil.Wait(1);
        }

        Assert.Equal("unstable feedback-margin:input/1", vigil.Told()[^1]);
        Assert.Single(vigil.All, static one => one is { Sink: "light", Level.Kind: LevelKind.Unstable });
        Assert.Equal(Severity.Urgent, vigil[0].Level.Severity);
    }

    [Fact]
    public void Weight_of_another_phase_holds_at_once_and_stirs_nothing()
    {
        var vigil = Raised(Severity.Urgent);
        for (var time = 0; time < 8; time++)
        {
            vigil.Ledger.PhaseChanged(vigil.Now);
            vigil.Drift(severity: time % 2 == 0 ? Severity.Notice : Severity.Urgent);
            Assert.Equal(["raised feedback-margin:input/1"], vigil.Told());
            vigil.Wait(1);
        }
    }

    [Fact]
    public void What_nobody_sees_gets_no_better()
    {
        var vigil = Raised(Severity.Urgent);
        vigil.Drift(severity: Severity.Notice);
        vigil.Wait(20);
        vigil.Unknown();
        vigil.Wait(600);
        vigil.Drift(severity: Severity.Notice);
        vigil.Wait(29.9);
        Assert.Empty(vigil.Told());
        vigil.Wait(0.2);
        Assert.Equal(Severity.Notice, vigil[0].Severity);
    }

    [Fact]
    public void Moment_is_one_minute_of_fresh_drift()
    {
        var vigil = new Vigil(Margin);
        vigil.Say(0, Momentary);
        vigil.Wait(40);
        vigil.Gap();
        vigil.Wait(20);
        vigil.Read();
        vigil.Restart(500);
        vigil.Wait(10);
        vigil.Connect();
        vigil.Wait(19.9);
        Assert.Equal(Severity.Notice, vigil[0].Severity);
        vigil.Wait(0.2);
        Assert.Equal(Severity.Warning, vigil[0].Severity);
        vigil.Restart(500);
        vigil.Connect();
        Assert.Equal(Severity.Warning, vigil[0].Severity);
        Assert.Equal(2, vigil.All.Count(static one => one.Sink == "light") + vigil.Told().Count);
    }

    [Fact]
    public void Finding_that_is_over_begins_its_moment_anew()
    {
        var vigil = new Vigil(Margin);
        vigil.Say(0, Momentary);
        vigil.Wait(50);
        vigil.Match();
        vigil.Wait(31);
        vigil.Say(0, Momentary);
        vigil.Wait(50);
        Assert.Equal(Severity.Notice, vigil[0].Severity);
        // It is back for less than it takes to be over.
        vigil.Match();
        vigil.Wait(5);
        vigil.Say(0, Momentary);
        vigil.Wait(11);
        Assert.Equal(Severity.Warning, vigil[0].Severity);
    }

    [Fact]
    public void Line_that_an_edited_plan_no_longer_has_is_closed_for_that_reason_over_a_restart()
    {
        var vigil = new Vigil(new WatchedCheck("muted:input/1", TimerClass.Switch), new WatchedCheck("muted:input/2", TimerClass.Switch));
        vigil.Drift(0);
        vigil.Wait(1);
        vigil.Told();
        vigil.Checks = [vigil.Checks[1]];
        vigil.Restart(10);
        vigil.Connect();
        Assert.Equal(["cleared muted:input/1"], vigil.Told());
        Assert.Equal("plan-changed", vigil.All[^1].Why);
    }
}
