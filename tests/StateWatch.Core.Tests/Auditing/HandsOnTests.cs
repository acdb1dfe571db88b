using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>What people may move without comment.</summary>
public class HandsOnTests
{
    private const string Hands = "\nhands-on: { musicians: [ears-a, wedges 2, subs], mix position: [input fader, eq, processing, group on, output delay] }\n";

    // The demo plan without its phases: everything is locked, so nothing else frees a setting.
    private static readonly string Text = DemoShow.PlanText[..DemoShow.PlanText.IndexOf("\nphases:", StringComparison.Ordinal)] + Hands;

    [Theory]
    [InlineData("input/1/send/mix/5/level", "musicians")]
    [InlineData("input/1/send/mix/6/on", "musicians")]
    [InlineData("input/15/send/mix/2/level", "musicians")]
    [InlineData("fx-return/1/send/mix/6/level", "musicians")]
    [InlineData("input/15/send/mix/1/level", null)] // wedges 1
    [InlineData("input/15/send/mix/2/tap", null)] // a tap is no level
    [InlineData("input/15/fader", "mix position")]
    [InlineData("group/1/fader", null)]
    [InlineData("group/1/on", "mix position")]
    [InlineData("input/15/on", null)]
    [InlineData("input/15/eq/on", "mix position")]
    [InlineData("main/1/eq/on", "mix position")]
    [InlineData("input/15/low-cut", "mix position")] // a class
    [InlineData("output/stage-4/delay", "mix position")]
    public void Words_name_settings(string path, string? who) =>
        Assert.Equal(who, DemoShow.Compile(Text, Phase.Show).HandsOn(DemoShow.Profile.Find(path)));

    [Theory]
    [InlineData("input/1/send/mix/5/level = 0 dB", "drift:input/1/send/mix/5/level")]
    [InlineData("input/1/send/mix/5/on = off", "drift:input/1/send/mix/5/on")]
    [InlineData("output/stage-4/delay = 90 ms", "drift:output/stage-4/delay")]
    public void Moved_by_hand_is_free_in_soundcheck_and_show_and_as_planned_in_build_and_doors(string change, string id)
    {
        foreach (var phase in (Phase[])[Phase.Build, Phase.Soundcheck, Phase.Doors, Phase.Show])
            Assert.Equal(phase is Phase.Build or Phase.Doors ? [id] : [], Found(phase, change));
    }

    [Theory]
    [InlineData("input/15/send/mix/1/level = 0 dB", "drift:input/15/send/mix/1/level")]
    [InlineData("input/15/send/mix/2/tap = post-fader", "monitor-post-fader:input/15/send/mix/2/tap")]
    [InlineData("input/15/send/mix/15/on = on; input/15/send/mix/15/level = 0 dB", "subs-on-open-mic:input/15/send/mix/15/on")] // a risk, though sends there may be moved
    public void Other_settings_and_risks_hold(string change, string id) => Assert.Equal([id], Found(Phase.Show, change));

    [Fact]
    public void Explanation_of_a_setting_says_who_may_move_it()
    {
        var path = DemoShow.Profile.Find("input/1/send/mix/5/level");
        Assert.Contains("\n  hands-on: musicians may move it in soundcheck and show, so here a deviation is nobody's business\n", SettingExplanation.Write(DemoShow.Compile(Text, Phase.Show), path));
        Assert.Contains("\n  hands-on: musicians may move it in soundcheck and show\n", SettingExplanation.Write(DemoShow.Compile(Text, Phase.Doors), path));
        Assert.DoesNotContain("hands-on", SettingExplanation.Write(DemoShow.Plan(Phase.Show), path));
    }

    private static IEnumerable<string> Found(Phase phase, string change)
    {
        var state = DemoShow.CleanDesk();
        foreach (var (path, value) in RuleCase.Changes(change))
            state.Set(path, value);
        return new Auditor(DemoShow.Compile(Text, phase)).Judge(state).Findings.Select(finding => finding.Id);
    }
}
