using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>What a sweep in the show may call urgent: it sees one moment.</summary>
public class ShowMomentTests
{
    private static Severity? InShow(string planText, string finding, params (string Path, string Text)[] changes)
    {
        var state = DemoShow.CleanDesk();
        foreach (var (path, text) in changes)
            state.Set(path, text);
        return new Auditor(DemoShow.Compile(planText, Phase.Show)).Judge(state).Findings.FirstOrDefault(item => item.Id == finding)?.Severity;
    }

    [Fact]
    public void Guarded_preamps_still_tell_of_phantom_power_but_gain_is_a_notice()
    {
        Assert.Contains("guarded: [levels, preamp]", DemoShow.PlanText, StringComparison.Ordinal);
        Assert.Equal(Severity.Warning, InShow(DemoShow.PlanText, "phantom-missing:socket/stage-18/phantom", ("socket/stage-18/phantom", "off")));
        Assert.Equal(Severity.Warning, InShow(DemoShow.PlanText, "pad-changed:socket/stage-1/pad", ("socket/stage-1/pad", "off")));
        Assert.Equal(Severity.Notice, InShow(DemoShow.PlanText, "gain-moved:socket/stage-25/gain", ("socket/stage-25/gain", "40 dB")));
    }

    [Fact]
    public void Talk_key_held_on_a_planned_public_route_is_a_notice_and_on_another_urgent()
    {
        var planned = DemoShow.PlanText.Replace("  2: { to: [ears-a, ears-b] }", "  2: { to: [ears-a, ears-b, overflow] }", StringComparison.Ordinal);
        Assert.NotEqual(DemoShow.PlanText, planned);
        Assert.Equal(Severity.Notice, InShow(planned, "talk-latched:desk/talk/2/on", ("desk/talk/2/on", "on"), ("desk/talk/2/to/matrix-5", "on")));
        Assert.Equal(Severity.Urgent, InShow(DemoShow.PlanText, "talk-latched:desk/talk/2/on", ("desk/talk/2/on", "on"), ("desk/talk/2/to/matrix-5", "on")));
        Assert.Equal(Severity.Urgent, InShow(planned, "talk-latched:desk/talk/2/on", ("desk/talk/2/on", "on"), ("desk/talk/2/to/matrix-5", "on"), ("desk/talk/2/to/main-1", "on")));
    }
}
