using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Auditing.Live;

public class LiveAllocationTests
{
    [Theory]
    [InlineData("group/3/fader = -3 dB", "group/3/fader = -4 dB", 0)]
    [InlineData("input/15/send/mix/3/level = -12 dB", "input/15/send/mix/3/level = -12.5 dB", 0)]
    [InlineData("dca/1/fader = -1 dB", "dca/1/fader = 0 dB", 0)]
    [InlineData("desk/oscillator = on", "desk/oscillator = off", 1)]
    [InlineData("main/1/on = off", "main/1/on = on", 1)]
    [InlineData("group/1/on = off", "group/1/on = on", 1)]
    [InlineData("main/1/fader = -inf dB", "main/1/fader = 0 dB", 1)]
    [InlineData("input/39/assign/main/1 = on", "input/39/assign/main/1 = off", 1)]
    [InlineData("group/1/assign/main/1 = off", "group/1/assign/main/1 = on", 1)]
    [InlineData("output/stage-1/source = none", "output/stage-1/source = main 1 left", 1)]
    [InlineData("fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 0 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = 0 dB", "fx-return/1/send/mix/14/on = off", 1)]
    [InlineData("input/44/source = mix 3; input/44/send/mix/3/on = on; input/44/send/mix/3/level = -5 dB; input/44/on = on", "input/44/source = none", 1)]
    public void Following_a_change_allocates_nothing_whether_or_not_it_alters_what_is_told(string there, string back, int told) =>
        FollowsWithoutAllocating(DemoShow.Plan(Phase.Doors), there, back, told);

    // The weekly show has couplings: margins are computed anew, and beyond 6 dB each setting that differs is tried.
    [Theory]
    [InlineData("main/1/fader = -2 dB", "main/1/fader = 0 dB", 0)]
    [InlineData("input/17/send/mix/1/level = -4.5 dB", "input/17/send/mix/1/level = -5 dB", 0)]
    [InlineData("socket/stage-29/gain = 40 dB", "socket/stage-29/gain = 34 dB", 1)]
    [InlineData("main/1/fader = 10 dB", "main/1/fader = 0 dB", 1)]
    [InlineData("input/29/low-cut = off", "input/29/low-cut = on", 1)]
    public void Following_margins_allocates_nothing_but_for_setups(string there, string back, int told) =>
        FollowsWithoutAllocating(ShippedShow.Of("saltmarsh-weekly").Plan(Phase.Doors), there, back, told, there.Contains("low-cut", StringComparison.Ordinal) ? 40_000 : 0);

    private static void FollowsWithoutAllocating(ShowPlan plan, string there, string back, int told, long most = 0)
    {
        var desk = new LiveDesk(plan);
        var (ahead, home) = (Parse(desk, there), Parse(desk, back));
        var reports = 0;
        for (var warm = 0; warm < 3; warm++)
        {
            Follow(desk, ahead);
            reports = desk.Live.Reports.Length;
            Follow(desk, home);
        }

        Assert.Equal(told, Math.Min(reports, 1));
        Assert.InRange(Allocations.Least(() =>
        {
            Follow(desk, ahead);
            Follow(desk, home);
        }), 0, most);
    }

    [Fact]
    public void At_a_cue_what_opens_and_closes_is_followed_without_allocating()
    {
        var shipped = ShippedShow.Of("lantern-rock");
        foreach (var cue in shipped.Cues)
        {
            var desk = new LiveDesk(shipped.Plan(Phase.Show, cue));
            (int, SettingValue)[] all = [.. desk.Plan.Profile.Settings.Where(item => item.Kind.Suffix is "on" or "active" or "dca/#" or "mute-group/#").Select(item => (item.Id, SettingValue.Switch(!desk.State[item.Id].IsOn)))];
            (int Id, SettingValue)[] home = [.. all.Select(item => (item.Item1, desk.State[item.Item1]))];
            var told = new HashSet<string>(StringComparer.Ordinal);
            for (var warm = 0; warm < 2; warm++)
                TurnAll(told);
            Assert.Contains(told, rule => rule.StartsWith("cue-not-", StringComparison.Ordinal));
            Assert.Equal(0, Allocations.Least(() => TurnAll(null)));

            void TurnAll(HashSet<string>? told)
            {
                for (var i = 0; i < all.Length; i++)
                {
                    Follow(desk, all.AsSpan(i, 1));
                    foreach (var check in desk.Live.Reports)
                        told?.Add(desk.Live.RuleOf(check).Id);
                    Follow(desk, home.AsSpan(i, 1));
                }
            }
        }
    }

    [Fact]
    public void Losing_everything_and_reading_it_again_allocates_nothing()
    {
        var desk = new LiveDesk(DemoShow.Plan(Phase.Doors));
        (int, SettingValue)[] all = [.. desk.Plan.Profile.Settings.Select(setting => (setting.Id, desk.State[setting.Id]))];
        var unseen = 0;
        Lose();
        Assert.Equal(1, unseen);
        Assert.Equal(0, Allocations.Least(Lose));
        Assert.Equal([], desk.Live.Result().Findings.Select(finding => finding.Id));

        void Lose()
        {
            desk.State.StartGeneration();
            desk.Live.Judge(desk.State);
            unseen += desk.Live.VerdictOf(0) == Verdict.CannotTell ? 1 : 0;
            Follow(desk, all);
        }
    }

    [Fact]
    public void A_change_of_one_switch_looks_at_the_few_checks_it_reaches()
    {
        var desk = new LiveDesk(DemoShow.Plan(Phase.Doors));
        desk.Set("input/39/assign/main/1", "on");
        desk.Live.Judge(desk.State);
        Assert.InRange(desk.Live.Looked, 2, 20);
        desk.Live.Judge(desk.State);
        Assert.Equal(0, desk.Live.Looked);
    }

    [Fact]
    public void Words_are_made_for_what_is_told_only()
    {
        var desk = new LiveDesk(DemoShow.Plan(Phase.Doors));
        Assert.Throws<InvalidOperationException>(() => new LiveAudit(desk.Plan).Result());
        Assert.Throws<InvalidOperationException>(() => desk.Live.Write(0));
        desk.Set("desk/oscillator", "on");
        desk.Live.Judge(desk.State);
        var check = desk.Live.Reports[0];
        Assert.Equal((Severity.Silent, Severity.Urgent), (desk.Live.SeverityBefore(check), desk.Live.SeverityOf(check)));
        Assert.Equal(Assert.Single(desk.Live.Result().Findings), desk.Live.Write(check));
    }

    private static void Follow(LiveDesk desk, ReadOnlySpan<(int Id, SettingValue Value)> changes)
    {
        foreach (var (id, value) in changes)
        {
            desk.State.Apply(id, value);
            desk.Live.Changed(id);
        }

        desk.Live.Judge(desk.State);
    }

    private static (int Id, SettingValue Value)[] Parse(LiveDesk desk, string changes) =>
    [
        .. changes.Split("; ").Select(change =>
        {
            var (path, text) = (change.Split(" = ")[0], change.Split(" = ")[1]);
            var id = desk.Plan.Profile.Find(path);
            Assert.True(desk.Plan.Profile.Settings[id].Codec.TryParse(text, out var value, out var problem), problem);
            return (id, value);
        }),
    ];
}
