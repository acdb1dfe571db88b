using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;
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

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void A_switch_that_moves_vanishes_and_comes_back_is_told_twice_under_the_id_of_its_finding(string show)
    {
        var desk = new LiveDesk(ShippedShow.Of(show).Plan(Phase.Doors, null));
        var (ledger, readings) = Watch(desk);
        var (setting, before) = TurnOneSwitch(desk);
        var id = desk.Live.Write(desk.Live.Reports[0]).Id;
        readings.HandIn(At(10));
        ledger.Advance(At(20));
        Assert.Equal($"hall/desk/{id}", Assert.Single(ledger.Announcements).Key);

        ledger.ClearOutputs();
        desk.State.MarkUnseen(setting, UnseenReason.NoReply);
        Judge(desk, setting);
        readings.HandIn(At(30));
        ledger.Advance(At(4000));
        Assert.Empty(ledger.Announcements);
        Assert.Equal((Evidence.Stale, Condition.Active), (ledger.Find($"hall/desk/{id}")!.Evidence, ledger.Find($"hall/desk/{id}")!.Condition));

        // The audit has nothing to report of a check that could not tell and is kept.
        desk.State.Apply(setting, before);
        Judge(desk, setting);
        readings.HandIn(At(4000));
        ledger.Advance(At(4010));
        Assert.Equal(LevelKind.None, Assert.Single(ledger.Announcements).Level.Kind);
    }

    [Fact]
    public void An_expected_change_is_known_by_the_words_of_the_live_value()
    {
        var desk = new LiveDesk(ShippedShow.Of(ShippedShow.All.First().Data).Plan(Phase.Doors, null));
        var (ledger, readings) = Watch(desk);
        TurnOneSwitch(desk);
        var finding = desk.Live.Write(desk.Live.Reports[0]);
        var change = new ExpectedChange($"hall/desk/{finding.Id}", [finding.Live]);
        Assert.Equal(CommandOutcome.Done, ledger.Expect("song", "Ada", "spare", [change], TimeSpan.FromSeconds(60), At(10)));
        readings.HandIn(At(10));
        ledger.Advance(At(69));
        Assert.Empty(ledger.Announcements);
        ledger.Advance(At(70));
        Assert.Equal(change.Key, Assert.Single(ledger.Announcements).Key);
    }

    private static Moment At(double seconds) => new(TimeSpan.FromSeconds(seconds), DateTimeOffset.UnixEpoch.AddSeconds(seconds));

    private static (FindingLedger Ledger, AuditReadings Readings) Watch(LiveDesk desk)
    {
        var ledger = new FindingLedger("hall/desk", AuditReadings.ChecksOf(desk.Live, desk.State), ["light"], At(0));
        ledger.Start(At(0));
        ledger.LinkUp(1, At(1));
        var readings = new AuditReadings(desk.Live, ledger);
        readings.HandIn(At(2), true);
        ledger.SnapshotDone(1, At(2));
        ledger.Advance(At(9));
        Assert.Empty(ledger.Announcements);
        return (ledger, readings);
    }

    private static void Judge(LiveDesk desk, int setting)
    {
        desk.Live.Changed(setting);
        desk.Live.Judge(desk.State);
    }

    // The first planned switch of which one finding tells when it moves.
    private static (int Setting, SettingValue Before) TurnOneSwitch(LiveDesk desk)
    {
        foreach (var expectation in desk.Plan.Expectations)
        {
            var (setting, before) = (desk.Plan.Profile.Settings[expectation.Setting], desk.State[expectation.Setting]);
            if (setting.Codec.Kind != ValueKind.Switch || !setting.Codec.TryParse(desk.Plan.Profile.Format(before) == "on" ? "off" : "on", out var other, out _))
                continue;
            desk.State.Apply(setting.Id, other);
            Judge(desk, setting.Id);
            if (desk.Live.Reports.Length == 1)
                return (setting.Id, before);
            desk.State.Apply(setting.Id, before);
            Judge(desk, setting.Id);
        }

        throw new InvalidOperationException("no switch is told alone");
    }
}
