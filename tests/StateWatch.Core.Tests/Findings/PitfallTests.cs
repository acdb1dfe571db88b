using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>The fifteen ways in which systems that watch and alert lose trust, as their users report them; issue tags are those of projects of other fields.</summary>
public class PitfallTests
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    private static Vigil Raised()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
        return vigil;
    }

    // prometheus/prometheus#14085
    [Fact]
    public void Pitfall_01_missing_data_is_never_read_as_recovery()
    {
        var vigil = Raised();
        vigil.Unknown();
        vigil.Wait(3600);
        vigil.Ledger.LinkLost(vigil.Session, vigil.Now);
        vigil.Wait(3600);
        vigil.Say(0, new Reading(ReadingKind.Unsupported));
        vigil.Wait(3600);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        Assert.DoesNotContain("cleared muted:input/1", vigil.Told());
    }

    // cloudflare/pint#966
    [Fact]
    public void Pitfall_02_short_gaps_do_not_keep_a_finding_from_ever_being_raised()
    {
        var vigil = new Vigil(new WatchedCheck("level:input/1", TimerClass.Continuous));
        vigil.Drift();
        for (var gap = 0; gap < 3; gap++)
        {
            vigil.Wait(0.9);
            vigil.Gap();
            vigil.Wait(0.4);
            vigil.Read();
        }

        Assert.Equal(["raised level:input/1"], vigil.Told());
    }

    // Icinga/icinga2#3779, #5713
    [Theory]
    [InlineData(Holds.Shelved)]
    [InlineData(Holds.OutOfService)]
    [InlineData(Holds.Expected)]
    public void Pitfall_03_when_a_hold_ends_the_standing_problem_is_told(Holds hold)
    {
        var vigil = new Vigil();
        Hold(vigil, hold, 600);
        vigil.Drift(live: "off");
        vigil.Wait(599);
        Assert.Equal((Condition.Active, hold), (vigil[0].Condition, vigil[0].Holds));
        Assert.Empty(vigil.Told());
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    // Icinga/icinga2#9449, prometheus/alertmanager#2370
    [Fact]
    public void Pitfall_04_a_recovery_is_lost_neither_while_flapping_nor_over_a_restart()
    {
        var vigil = new Vigil();
        for (var time = 0; time < 8; time++)
        {
            vigil.Drift();
            vigil.Wait(1);
            vigil.Match();
            vigil.Wait(4);
        }

        Assert.Equal("unstable muted:input/1", vigil.Told()[^1]);
        vigil.Restart(20);
        vigil.Connect();
        vigil.Wait(600);
        Assert.Equal("cleared muted:input/1", vigil.Told()[^1]);
    }

    [Fact]
    public void Pitfall_05_what_is_told_is_the_difference_to_what_is_known_not_an_edge()
    {
        var vigil = Raised();
        vigil.Ledger.SinkLost("phone", vigil.Now);
        vigil.Match();
        vigil.Wait(100);
        vigil.Drift();
        vigil.Wait(1);
        Assert.Equal(["cleared muted:input/1", "raised muted:input/1"], vigil.Told());
        Assert.Equal(["raised muted:input/1"], vigil.Told("phone"));
        vigil.Ledger.SinkRecovered("phone", false, vigil.Now);
        Assert.Equal(["cleared muted:input/1", "raised muted:input/1"], vigil.Told("phone"));
        Assert.Equal(2, vigil.All[^1].Level.Episode);
    }

    // giantswarm/roadmap#2174
    [Fact]
    public void Pitfall_06_a_root_cause_is_never_slower_than_its_symptoms()
    {
        foreach (var timers in (TimerClass[])[TimerClass.Switch, TimerClass.Continuous, TimerClass.Structural])
        {
            var vigil = Vigil.OfMany(40, timers);
            for (var check = 0; check < 40; check++)
                vigil.Drift(check);
            vigil.Wait(60);
            Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        }

        var fastest = LedgerNumbers.SwitchOn + LedgerNumbers.Gather;
        Assert.True(TimerClass.Switch.OnDelay() <= fastest && LedgerNumbers.Gather <= fastest);
    }

    // prometheus/alertmanager#4064, prometheus/prometheus#15175
    [Fact]
    public void Pitfall_07_a_restart_neither_leaks_inhibited_findings_nor_turns_raised_ones_back_to_pending()
    {
        var vigil = Vigil.OfMany(41);
        vigil.Drift(40);
        vigil.Wait(30);
        for (var check = 0; check < 40; check++)
            vigil.Drift(check);
        vigil.Wait(5);
        Assert.Equal(["raised muted:input/0040", "raised bulk-change:desk"], vigil.Told());
        vigil.Restart(10);
        Assert.Equal(Condition.Active, vigil[40].Condition);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        vigil.Connect();
        vigil.Wait(60);
        Assert.Equal(Holds.Inhibited, vigil[0].Holds);
        Assert.Empty(vigil.Told());
    }

    // argoproj/argo-cd#8833
    [Fact]
    public void Pitfall_08_another_spelling_of_a_value_on_plan_is_no_drift_and_never_acts_like_one()
    {
        var vigil = Raised();
        vigil.Say(0, Reading.Match with { Live = "On" });
        vigil.Say(0, Reading.Match with { Live = "on" });
        vigil.Say(0, Reading.Match with { Live = "1" });
        vigil.Wait(10);
        Assert.Equal(["cleared muted:input/1"], vigil.Told());
        Assert.Equal(0, vigil[0].Relapses);
    }

    [Fact]
    public void Pitfall_09_an_expected_change_hides_only_what_it_names()
    {
        var vigil = new Vigil(new WatchedCheck("patch:input/1", TimerClass.Switch), new WatchedCheck("patch:input/2", TimerClass.Switch));
        Assert.Equal(CommandOutcome.NoValues, vigil.Ledger.Expect("swap", "Ada", "spare", [], Hour, vigil.Now));
        Assert.Equal(CommandOutcome.NoValues, vigil.Ledger.Expect("swap", "Ada", "spare", [new ExpectedChange(vigil.KeyOf(0), [])], Hour, vigil.Now));
        Assert.Equal(CommandOutcome.UnknownKey, vigil.Ledger.Expect("swap", "Ada", "spare", [new ExpectedChange("hall/desk/patch:*", ["stage 12"])], Hour, vigil.Now));
        Assert.Equal(CommandOutcome.Done, vigil.Ledger.Expect("swap", "Ada", "spare", [new ExpectedChange(vigil.KeyOf(0), ["stage 12"])], Hour, vigil.Now));
        vigil.Drift(0, live: "stage 12");
        vigil.Drift(1, live: "stage 12");
        vigil.Wait(1);
        Assert.Equal(["raised patch:input/2"], vigil.Told());
        vigil.Drift(0, live: "stage 13");
        Assert.Equal(["raised patch:input/1"], vigil.Told());
        vigil.Drift(0, live: null);
        Assert.Equal(Holds.None, vigil[0].Holds);
    }

    // soleur#6443
    [Fact]
    public void Pitfall_10_what_never_rests_does_not_become_permanent_noise()
    {
        var vigil = new Vigil();
        for (var time = 0; time < 600; time++)
        {
            vigil.Drift(severity: Severity.Warning);
            vigil.Wait(1);
            vigil.Match();
            vigil.Wait(5);
        }

        // An hour, 600 raises: told a handful of times until it is damped, then once a quarter of an hour.
        Assert.InRange(vigil.Told().Count, 5, 24);
        Assert.True(vigil[0].Episode + vigil[0].Relapses >= 600);
    }

    // hashicorp/terraform#36403, argoproj/argo-cd#15898
    [Fact]
    public void Pitfall_11_what_is_told_and_what_is_shown_come_from_one_state()
    {
        var vigil = Raised();
        vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now);
        vigil.Told();
        vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare", null, false, vigil.Now);
        vigil.Told();
        foreach (var announcement in vigil.All)
            Assert.Equal(announcement.Id, $"{announcement.Subject}#{announcement.Level.Transition}");
        var shown = Assert.Single(vigil.Ledger.Standing());
        Assert.All(shown.Sinks, sink => Assert.Equal(shown.Level, sink.Offered));
        Assert.Equal(vigil.All[^1].Level, shown.Level);
    }

    // prometheus/prometheus#9342
    [Fact]
    public void Pitfall_12_an_overload_discards_nothing()
    {
        var vigil = Vigil.OfMany(4000, protectedFrom: 3990);
        for (var check = 0; check < 4000; check++)
            vigil.Drift(check);
        vigil.Wait(10);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        Assert.Equal(4000, vigil.All[^1].Members.Count);
        Assert.Equal(vigil.KeyOf(3990), vigil.All[^1].Members[0]);
        for (var check = 0; check < 3100; check++)
            vigil.Match(check);
        vigil.Wait(10);
        var told = vigil.Told();
        Assert.Equal("cleared bulk-change:desk", told[0]);
        Assert.Equal(2, told.Count);
        var digest = vigil.All[^1].Digest!;
        Assert.Equal(3100, digest.Count(static line => line.Passed == 1));
        Assert.Equal(900, digest.Count(static line => line.Level.Kind == LevelKind.Raised));
        Assert.Equal(vigil.KeyOf(3990), digest[0].Key);
    }

    // prometheus/prometheus#8809
    [Fact]
    public void Pitfall_13_what_was_told_is_stored_with_what_is_true_so_nothing_is_forgotten_or_told_twice()
    {
        var vigil = Raised();
        vigil.Restart(300);
        vigil.Connect();
        vigil.Wait(60);
        Assert.Empty(vigil.Told());
        vigil.Becomes(0, Reading.Match);
        vigil.Restart(300);
        vigil.Connect();
        vigil.Wait(60);
        Assert.Equal(["cleared muted:input/1"], vigil.Told());
    }

    [Fact]
    public void Pitfall_14_what_is_sent_again_has_the_same_id_and_older_deliveries_do_not_undo_newer_ones()
    {
        var vigil = Raised();
        var raise = vigil.All[^1];
        Assert.Equal("phone", raise.Sink);
        vigil.Ledger.SinkRecovered("phone", true, vigil.Now);
        Assert.Equal(["raised muted:input/1", "raised muted:input/1"], vigil.Told("phone"));
        Assert.Equal(raise.Id, vigil.All[^1].Id);
        vigil.Match();
        vigil.Wait(5);
        vigil.Deliver("phone");
        vigil.Ledger.Delivered(raise, vigil.Now);
        Assert.Equal(LevelKind.None, vigil[0].Sinks[1].Told.Kind);
        var ids = vigil.All.Where(static one => one.Sink == "light").Select(static one => one.Id).ToList();
        Assert.Equal(ids.Distinct(StringComparer.Ordinal), ids);
    }

    [Fact]
    public void Pitfall_15_nothing_is_put_aside_without_owner_reason_and_end()
    {
        var vigil = Raised();
        var (ledger, now) = (vigil.Ledger, vigil.Now);
        Assert.Equal(CommandOutcome.NoAuthor, ledger.Acknowledge(Vigil.Mute, " ", now));
        Assert.Equal(CommandOutcome.NoAuthor, ledger.Shelve(Vigil.Mute, "", "spare", Hour, false, now));
        Assert.Equal(CommandOutcome.NoReason, ledger.Shelve(Vigil.Mute, "Ada", "", Hour, false, now));
        Assert.Equal(CommandOutcome.NoExpiry, ledger.Shelve(Vigil.Mute, "Ada", "spare", TimeSpan.Zero, false, now));
        Assert.Equal(CommandOutcome.NoExpiry, ledger.TakeOutOfService(Vigil.Mute, "Ada", "spare", -Hour, now));
        Assert.Equal(CommandOutcome.NoReason, ledger.Expect("swap", "Ada", " ", [new ExpectedChange(Vigil.Mute, ["off"])], Hour, now));
        Assert.Equal(Holds.None, vigil[0].Holds);
        ledger.Shelve(Vigil.Mute, "Ada", "spare", null, false, now);
        vigil.Restart(10, static record => record with { Findings = [.. record.Findings.Select(static finding => finding with { Shelf = null })] });
        Assert.Equal(Holds.Settling, vigil[0].Holds);
    }

    private static void Hold(Vigil vigil, Holds hold, double seconds)
    {
        var span = TimeSpan.FromSeconds(seconds);
        var outcome = hold switch
        {
            Holds.Shelved => vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare", span, false, vigil.Now),
            Holds.OutOfService => vigil.Ledger.TakeOutOfService(Vigil.Mute, "Ada", "spare", span, vigil.Now),
            _ => vigil.Ledger.Expect("swap", "Ada", "spare", [new ExpectedChange(Vigil.Mute, ["off"])], span, vigil.Now),
        };
        Assert.Equal(CommandOutcome.Done, outcome);
    }
}
