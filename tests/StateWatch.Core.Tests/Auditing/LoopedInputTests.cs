using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>An input that the plan itself lets draw from a bus is a piece of the way.</summary>
public class LoopedInputTests
{
    private static readonly string Text = DemoShow.PlanText
        .Replace("parked: rest", "", StringComparison.Ordinal)
        .Replace("settings:\n", "settings:\n  \"input/47/source\": group 1\n  \"input/47/on\": on\n  \"input/47/fader\": 0 dB\n  \"input/47/assign/group/5\": on\n", StringComparison.Ordinal);

    [Fact]
    public void Another_source_on_it_is_told_while_nothing_arrives_by_any_way()
    {
        var plan = DemoShow.Compile(Text, Phase.Doors);
        var state = DemoShow.PlannedDesk(plan);
        Assert.DoesNotContain(new Auditor(plan).Judge(state).Findings, finding => finding.Rule.Id == "must-carry-silent");
        state.Set("input/47/source", "stage 40");
        state.Set("group/1/on", "off");
        var found = new Auditor(plan).Judge(state).Findings.Select(finding => finding.Id).ToList();
        Assert.Contains("must-carry-silent:group/1/on", found);
        Assert.Contains(found, id => id.EndsWith(":input/47/source", StringComparison.Ordinal));
    }
}
