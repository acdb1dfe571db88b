using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>Links, gaps, sessions, restarts and reloads.</summary>
public class ViewTests
{
    [Fact]
    public void A_lost_link_is_one_finding_and_silence_raises_nothing()
    {
        var vigil = Vigil.OfMany(50);
        vigil.Drift(0);
        vigil.Ledger.LinkLost(vigil.Session, vigil.Now);
        vigil.Wait(600);
        Assert.Equal(["raised source-unreachable:desk"], vigil.Told());
        Assert.Equal((Evidence.Stale, StaleReason.LinkLost), (vigil[0].Evidence, vigil[0].StaleReason));
        Assert.Equal(Condition.Pending, vigil[0].Condition);
        vigil.Connect();
        vigil.Wait(3);
        Assert.Equal(["raised muted:input/0000", "cleared source-unreachable:desk"], vigil.Told());
    }

    [Fact]
    public void A_beginning_writes_no_line_for_checks_that_never_had_anything_to_tell()
    {
        var checks = Enumerable.Range(0, 100).Select(static number => new WatchedCheck($"muted:input/{number}", TimerClass.Switch)).ToArray();
        var now = new Moment(TimeSpan.FromHours(1), new DateTimeOffset(2026, 11, 25, 9, 0, 0, TimeSpan.Zero));
        var ledger = new FindingLedger("hall/desk", checks, ["light"], now);
        ledger.Start(now);
        Assert.Equal(Holds.Settling, ledger.Find("hall/desk/muted:input/7")!.Holds);
        ledger.LinkUp(1, now);
        for (var check = 0; check < checks.Length; check++)
            ledger.Observe(check, Reading.Match, now);
        ledger.SnapshotDone(1, now);
        ledger.Advance(now);
        Assert.Equal(Holds.None, ledger.Find("hall/desk/muted:input/7")!.Holds);
        Assert.Equal(["hall/desk"], ledger.Events.Select(static line => line.Key).Distinct());
    }

    [Fact]
    public void A_beginning_writes_what_is_held_of_a_finding_that_was_raised_before()
    {
        var vigil = Vigil.OfMany(2);
        vigil.Drift(1);
        vigil.Wait(10);
        vigil.Restart(60);
        var held = vigil.Ledger.Events.Where(static line => line.Kind == LedgerEventKind.HoldBegan).ToList();
        Assert.Equal([(vigil.KeyOf(1), "settling")], held.Select(static line => (line.Key, line.Text!)));
    }

    [Fact]
    public void A_late_word_of_an_older_session_is_ignored()
    {
        var vigil = new Vigil();
        vigil.Ledger.LinkUp(7, vigil.Now);
        vigil.HandInEverything();
        Assert.False(vigil.Ledger.SnapshotDone(6, vigil.Now));
        Assert.False(vigil.Ledger.LinkLost(6, vigil.Now));
        Assert.False(vigil.Ledger.Gap(7, vigil.Now));
        Assert.False(vigil.Ledger.LinkUp(7, vigil.Now));
        Assert.False(vigil.Ledger.IsViewFresh);
        Assert.True(vigil.Ledger.SnapshotDone(7, vigil.Now));
        vigil.Wait(60);
        Assert.Empty(vigil.Told());
    }

    [Fact]
    public void What_arrives_during_a_full_read_counts_when_it_is_done()
    {
        var vigil = new Vigil();
        vigil.Gap();
        vigil.Drift();
        vigil.Wait(10);
        Assert.Equal((Condition.Normal, Evidence.Stale), (vigil[0].Condition, vigil[0].Evidence));
        vigil.Ledger.SnapshotDone(vigil.Session, vigil.Now);
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void A_desk_that_is_read_anew_again_and_again_is_told_as_not_seen_whole_and_watched_all_the_same()
    {
        var vigil = new Vigil();
        for (var gap = 0; gap < 3; gap++)
        {
            vigil.Gap();
            vigil.Wait(10);
        }

        Assert.Equal(["raised incomplete-view:desk"], vigil.Told());
        vigil.Gap();
        vigil.Drift();
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/1"], vigil.Told());
        vigil.Gap();
        vigil.Wait(10);
        Assert.Empty(vigil.Told());
        // Unknown never clears.
        Assert.Equal((Condition.Active, Evidence.Stale), (vigil[0].Condition, vigil[0].Evidence));
        vigil.Read();
        Assert.Equal(["cleared incomplete-view:desk"], vigil.Told());
        vigil.Gap();
        vigil.Wait(29);
        Assert.Empty(vigil.Told());
    }

    [Fact]
    public void A_desk_that_is_off_at_the_start_is_one_finding()
    {
        var vigil = new Vigil();
        vigil.Restart(1);
        vigil.Ledger.LinkLost(0, vigil.Now);
        vigil.Wait(60);
        Assert.False(vigil.Ledger.IsSettling);
        Assert.Equal(["raised source-unreachable:desk"], vigil.Told());
        vigil.Ledger.LinkUp(1, vigil.Now);
        vigil.Wait(31);
        Assert.Equal(["cleared source-unreachable:desk", "raised incomplete-view:desk"], vigil.Told());
    }

    [Fact]
    public void A_restart_counts_as_a_gap_for_fresh_drift_and_goes_on_for_what_people_decided()
    {
        var vigil = new Vigil(new WatchedCheck("level:input/1", TimerClass.Continuous), new WatchedCheck("level:input/2", TimerClass.Continuous));
        vigil.Drift(1);
        vigil.Wait(3);
        vigil.Ledger.Shelve(vigil.KeyOf(1), "Ada", "spare", TimeSpan.FromSeconds(100), false, vigil.Now);
        vigil.Drift(0);
        vigil.Wait(1.5);
        vigil.Restart(90);
        vigil.Connect();
        Assert.Equal(TimeSpan.FromSeconds(1.5), vigil[0].Accumulated);
        vigil.Wait(0.4);
        Assert.Equal(Condition.Pending, vigil[0].Condition);
        vigil.Wait(0.2);
        Assert.Equal(Condition.Active, vigil[0].Condition);
        Assert.Equal(Holds.Shelved, vigil[1].Holds);
        vigil.Wait(8);
        Assert.Equal(["raised level:input/1", "raised level:input/2"], vigil.Told());
    }

    [Fact]
    public void A_clock_that_went_back_over_a_restart_leaves_nothing_aside()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Wait(1);
        vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare", null, false, vigil.Now);
        vigil.Told();
        vigil.Restart(-0.5);
        vigil.Connect();
        Assert.Equal(["raised muted:input/1"], vigil.Told());
    }

    [Fact]
    public void A_reload_resets_no_timer()
    {
        var vigil = new Vigil(new WatchedCheck("level:input/1", TimerClass.Continuous));
        vigil.Drift();
        for (var time = 0; time < 4; time++)
        {
            vigil.Wait(0.4);
            vigil.Ledger.Reload([.. vigil.Checks], vigil.Now);
            vigil.HandInEverything();
        }

        vigil.Wait(0.4);
        Assert.Equal(Condition.Active, vigil[0].Condition);
    }

    [Fact]
    public void What_a_new_plan_no_longer_has_or_no_longer_minds_is_closed_for_that_reason()
    {
        var vigil = new Vigil(new WatchedCheck("level:input/1", TimerClass.Switch, IsLatching: true), new WatchedCheck("level:input/2", TimerClass.Switch));
        vigil.Drift(0);
        vigil.Drift(1);
        vigil.Wait(1);
        vigil.Told();
        vigil.Checks = [vigil.Checks[1]];
        vigil.Ledger.Reload(vigil.Checks, vigil.Now);
        vigil.Match(0);
        Assert.Equal(["cleared level:input/1", "cleared level:input/2"], vigil.Told());
        Assert.Equal("plan-changed", vigil.All[^1].Why);
        Assert.Equal(CommandOutcome.UnknownKey, vigil.Ledger.Shelve("hall/desk/level:input/1", "Ada", "why", null, false, vigil.Now));
        vigil.Match(0);
        vigil.Drift(0);
        vigil.Wait(1);
        vigil.Match(0);
        vigil.Wait(1.9);
        Assert.DoesNotContain("cleared level:input/2", vigil.Told());
    }

    [Fact]
    public void A_key_that_comes_back_with_a_plan_uses_no_id_twice()
    {
        var vigil = new Vigil();
        var checks = vigil.Checks;
        for (var time = 0; time < 3; time++)
        {
            vigil.Drift();
            vigil.Wait(1);
            vigil.Ledger.Reload([], vigil.Now);
            vigil.Wait(100);
            vigil.Ledger.Reload(checks, vigil.Now);
        }

        vigil.Told();
        var ids = vigil.All.Where(static one => one.Sink == "light").Select(static one => one.Id).ToList();
        Assert.Equal(6, ids.Count);
        Assert.Equal(ids.Distinct(StringComparer.Ordinal), ids);
    }

    [Fact]
    public void A_phase_that_frees_a_setting_closes_its_finding_at_once()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Wait(1);
        vigil.Told();
        vigil.Ledger.PhaseChanged(vigil.Now);
        vigil.Say(0, Reading.Drift(Core.Auditing.Severity.Silent));
        Assert.Equal(["cleared muted:input/1"], vigil.Told());
        Assert.Equal("phase-changed", vigil.All[^1].Why);
    }

    [Fact]
    public void A_latched_finding_is_told_until_somebody_knows()
    {
        var vigil = new Vigil(new WatchedCheck("howl:input/1", TimerClass.Switch, IsLatching: true));
        vigil.Drift();
        vigil.Wait(1);
        vigil.Match();
        vigil.Wait(3);
        Assert.Equal(["raised howl:input/1", "lapsed howl:input/1"], vigil.Told());
        vigil.Restart(10);
        vigil.Connect();
        Assert.Empty(vigil.Told());
        vigil.Ledger.Acknowledge(vigil.KeyOf(0), "Ada", vigil.Now);
        Assert.Equal(["cleared howl:input/1"], vigil.Told());
        vigil.Wait(3000);
        Assert.Empty(vigil.Told());
    }

    [Fact]
    public void A_sink_that_was_never_told_of_a_raise_is_told_no_clear_but_a_digest()
    {
        var vigil = new Vigil();
        vigil.Ledger.SinkLost("phone", vigil.Now);
        vigil.Drift();
        vigil.Wait(1);
        vigil.Match();
        vigil.Wait(5);
        vigil.Ledger.SinkRecovered("phone", false, vigil.Now);
        vigil.Wait(59);
        Assert.Empty(vigil.Told("phone"));
        vigil.Wait(2);
        Assert.Equal(["digest passed 1 muted:input/1"], vigil.Told("phone"));
        Assert.Equal(["raised muted:input/1", "cleared muted:input/1"], vigil.Told());
    }

    [Fact]
    public void Time_that_goes_back_or_a_clock_never_set_does_no_harm()
    {
        var vigil = new Vigil();
        vigil.Drift();
        vigil.Ledger.Advance(new Moment(TimeSpan.Zero, DateTimeOffset.MinValue));
        vigil.Ledger.Advance(new Moment(vigil.Now.Clock + TimeSpan.FromDays(40), DateTimeOffset.MinValue));
        vigil.Ledger.Advance(new Moment(TimeSpan.MinValue, DateTimeOffset.MaxValue));
        Assert.Equal(Condition.Active, vigil[0].Condition);
    }

    [Fact]
    public void Times_that_storage_damaged_do_no_harm()
    {
        foreach (var damaged in (TimeSpan[])[TimeSpan.MinValue, TimeSpan.MaxValue])
        {
            var vigil = new Vigil();
            for (var time = 0; time < 9; time++)
            {
                vigil.Drift();
                vigil.Wait(1);
                vigil.Match();
                vigil.Wait(1);
            }

            vigil.Drift();
            vigil.Wait(1);
            vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now);
            vigil.Ledger.Shelve(Vigil.Mute, "Ada", "spare", null, false, vigil.Now);
            vigil.Restart(10, record => record with
            {
                Findings = [.. record.Findings.Select(finding => finding with
                {
                    Since = damaged,
                    Accumulated = damaged,
                    PendingAt = damaged,
                    RestlessAt = damaged,
                    DampedAt = damaged,
                    NextLook = damaged,
                    SteadySince = damaged,
                    Restlessness = double.NaN,
                    Shelf = finding.Shelf is { } shelf ? shelf with { Until = damaged } : null,
                    Acknowledgement = finding.Acknowledgement is { } known ? known with { Until = damaged } : null,
                })],
            });
            vigil.Connect();
            vigil.Wait(3600);
            Assert.Equal((Condition.Active, Holds.None, Attention.Unacked), (vigil[0].Condition, vigil[0].Holds, vigil[0].Attention));
            Assert.Equal(LevelKind.Raised, vigil[0].Sinks[0].Offered.Kind);
        }
    }
}
