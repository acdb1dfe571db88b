using CsCheck;
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

    public static TheoryData<string, Phase> ShowsByPhase => [.. ShippedShow.All.SelectMany(static show => new TheoryDataRow<string, Phase>[] { new(show.Data, Phase.Doors), new(show.Data, Phase.Show) })];

    [Theory]
    [MemberData(nameof(ShowsByPhase))]
    public void Handing_in_what_moved_is_handing_in_everything(string show, Phase phase)
    {
        var shipped = ShippedShow.Of(show);
        var desk = new LiveDesk(shipped.Plan(phase, null));
        var ((one, some), (other, all)) = (Watch(desk), Watch(desk));
        var checks = AuditReadings.ChecksOf(desk.Live, desk.State);
        var happenings = DeskChange.Any.Array[150].Generate(new PCG(5, (ulong)TestSeed.Value), null, out _);
        var random = new Random(TestSeed.Value);
        var (seconds, told) = (10.0, 0);
        foreach (var happening in happenings)
        {
            happening.Happen(desk, shipped.Incidents);
            desk.Live.Judge(desk.State);
            // Now and then a judgement is not handed in at all.
            if (random.Next(8) == 0)
                continue;
            some.HandIn(At(seconds));
            all.HandIn(At(seconds), true);
            seconds += random.Next(60) / 10.0;
            one.Advance(At(seconds));
            other.Advance(At(seconds));
            Assert.Equal(other.Announcements.Select(LedgerWords.Of), one.Announcements.Select(LedgerWords.Of));
            Assert.Equal(other.Events, one.Events);
            told += one.Announcements.Count;
            one.ClearOutputs();
            other.ClearOutputs();
            foreach (var check in checks)
                Assert.Equal(other.Find($"hall/desk/{check.Id}")!.Reading, one.Find($"hall/desk/{check.Id}")!.Reading);
        }

        Assert.InRange(told, 5, int.MaxValue);
    }

    [Fact]
    public void A_level_that_moves_farther_is_told_again_and_is_over_only_well_inside_its_tolerance()
    {
        // A group fader of the weekly show, planned at 0 dB with a tolerance of 1 dB.
        var desk = new LiveDesk(DemoShow.Plan(Phase.Doors));
        var fader = desk.Plan.Profile.Find("group/3/fader");
        var (ledger, readings) = Watch(desk);
        var key = $"hall/desk/drift:{desk.Plan.Profile.Settings[fader].Path}";
        double seconds = 20;
        Move("-4 dB");
        Assert.Equal((Condition.Active, 3), (ledger.Find(key)!.Condition, ledger.Find(key)!.LastDrift.Band));
        Assert.Equal(CommandOutcome.Done, ledger.Acknowledge(key, "Ada", At(seconds)));
        Move("-4.4 dB");
        Assert.Equal(Attention.Acked, ledger.Find(key)!.Attention);
        Move("-6 dB");
        Assert.Equal(Attention.Unacked, ledger.Find(key)!.Attention);
        Assert.Equal(5, ledger.Find(key)!.LastDrift.Band);
        Move("-0.9 dB");
        Assert.Equal(Condition.Active, ledger.Find(key)!.Condition);
        Assert.Equal(Reading.OuterMatch, ledger.Find(key)!.Reading);
        Move("-0.6 dB");
        Assert.Equal(Condition.Normal, ledger.Find(key)!.Condition);

        void Move(string text)
        {
            desk.Set("group/3/fader", text);
            desk.Live.Judge(desk.State);
            readings.HandIn(At(seconds));
            ledger.Advance(At(seconds += 10));
        }
    }

    [Fact]
    public void Handing_in_what_did_not_change_allocates_nothing()
    {
        var desk = new LiveDesk(DemoShow.Plan(Phase.Doors));
        var (ledger, readings) = Watch(desk);
        var fader = desk.Plan.Profile.Find("group/3/fader");
        SettingValue[] values = [.. new[] { "-0.2 dB", "0.3 dB" }.Select(text => desk.Plan.Profile.Settings[fader].Codec.TryParse(text, out var value, out _) ? value : default)];
        double seconds = 20;
        Ride();
        Assert.Equal(0, Allocations.Least(Ride));
        Assert.DoesNotContain(ledger.Events, static line => line.Kind == LedgerEventKind.Drifted);

        void Ride()
        {
            foreach (var value in values)
            {
                desk.State.Apply(fader, value);
                desk.Live.Changed(fader);
                desk.Live.Judge(desk.State);
                readings.HandIn(At(seconds += 0.1));
            }
        }
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
