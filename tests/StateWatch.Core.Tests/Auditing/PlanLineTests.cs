using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles.Codecs;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>No line of the demo plan is there for nothing: without it something else is planned, found, or said.</summary>
public class PlanLineTests(ITestOutputHelper output)
{
    private static readonly Phase[] AllPhases = [Phase.Doors, Phase.Show, Phase.Soundcheck, Phase.Build];

    [Fact]
    public void Deleting_any_line_of_the_plan_is_noticed()
    {
        var whole = AllPhases.ToDictionary(phase => phase, phase => Outcome(DemoShow.PlanText, phase));
        var lines = DemoShow.PlanText.Split('\n');
        var offenders = new List<string>();
        var tried = 0;
        for (var i = 0; i < lines.Length; i++)
        {
            if (lines[i].Trim() is "" or ['#', ..])
                continue;
            tried++;
            var end = i + 1;
            while (end < lines.Length && (lines[end].Trim().Length == 0 || Indent(lines[end]) > Indent(lines[i])))
                end++;
            var without = string.Join('\n', lines[..i].Concat(lines[end..]));
            if (AllPhases.All(phase => Outcome(without, phase).SetEquals(whole[phase])))
                offenders.Add($"{i + 1}: {lines[i]}");
        }

        output.WriteLine($"{tried} lines deleted, one at a time");
        Assert.True(tried > 80, $"{tried}");
        Assert.Empty(offenders);
    }

    [Theory]
    [InlineData(Phase.Build)]
    [InlineData(Phase.Soundcheck)]
    [InlineData(Phase.Doors)]
    [InlineData(Phase.Show)]
    public void Audit_of_the_demo_plan_says_nothing(Phase phase) =>
        Assert.DoesNotContain(Outcome(DemoShow.PlanText, phase), item => item.StartsWith("said", StringComparison.Ordinal));

    private static int Indent(string line) => line.Length - line.TrimStart(' ').Length;

    // What is said; the phase a sweep judges by; what is planned; what is found on the clean and on the changed desk.
    private static HashSet<string> Outcome(string planText, Phase phase)
    {
        var outcome = new HashSet<string>(StringComparer.Ordinal);
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("midwinter.plan.yaml", planText), diagnostics);
        var plan = document is null ? null : PlanCompiler.Compile(document, DemoShow.Profile, phase, diagnostics, auditPlan: true);
        foreach (var item in diagnostics.Items)
            outcome.Add($"said {item.Code.Id} {item.Message}");
        Assert.Equal(plan is null, diagnostics.HasErrors);
        if (plan is null)
            return outcome;
        outcome.Add($"sweeps in {document!.SweepPhase}");
        foreach (var expectation in plan.Expectations)
            outcome.Add($"{expectation.Setting} {ValueText.Format(expectation.Low, DemoShow.Profile.Texts)} {ValueText.Format(expectation.High, DemoShow.Profile.Texts)}");
        var desk = DemoShow.CleanDesk();
        Judge(plan, desk, outcome, "clean");
        foreach (var incident in DemoShow.Incidents.Incidents)
            desk.Apply(incident);
        Judge(plan, desk, outcome, "changed");
        return outcome;
    }

    private static void Judge(ShowPlan plan, DeskState state, HashSet<string> outcome, string when)
    {
        foreach (var finding in new Auditor(plan).Judge(state).Findings)
            outcome.Add($"{when}: {finding.Id} {finding.Severity}");
    }
}
