using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles.Codecs;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>No line of a shipped plan is there for nothing: without it something else is planned, found, or said.</summary>
public class PlanLineTests(ITestOutputHelper output)
{
    private static readonly Phase[] AllPhases = [Phase.Doors, Phase.Show, Phase.Soundcheck, Phase.Build];

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Deleting_any_line_of_the_plan_is_noticed(string show)
    {
        var shipped = ShippedShow.Of(show);
        List<(Phase Phase, string? Cue)> moments = [.. AllPhases.Select(phase => (phase, default(string))), .. shipped.Cues.Select(cue => (Phase.Show, cue))];
        var whole = moments.ToDictionary(moment => moment, moment => Outcome(shipped, shipped.PlanText, moment.Phase, moment.Cue));
        var lines = shipped.PlanText.Split('\n');
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
            if (moments.TrueForAll(moment => Outcome(shipped, without, moment.Phase, moment.Cue).SetEquals(whole[moment])))
                offenders.Add($"{i + 1}: {lines[i]}");
        }

        output.WriteLine($"{tried} lines deleted, one at a time");
        Assert.True(tried > 50, $"{tried}");
        Assert.Empty(offenders);
    }

    [Theory]
    [MemberData(nameof(ShippedShow.InAllPhases), MemberType = typeof(ShippedShow))]
    public void Audit_of_a_shipped_plan_says_nothing(string show, Phase phase) =>
        Assert.DoesNotContain(Outcome(ShippedShow.Of(show), ShippedShow.Of(show).PlanText, phase), item => item.StartsWith("said", StringComparison.Ordinal));

    [Theory]
    [MemberData(nameof(ShippedShow.AtAllCues), MemberType = typeof(ShippedShow))]
    public void Audit_of_a_shipped_cue_says_nothing(string show, string cue) =>
        Assert.DoesNotContain(Outcome(ShippedShow.Of(show), ShippedShow.Of(show).PlanText, Phase.Show, cue), item => item.StartsWith("said", StringComparison.Ordinal));

    [Fact]
    public void Weekly_show_fits_on_a_page_and_plans_two_thousand_settings()
    {
        var weekly = ShippedShow.Of("saltmarsh-weekly");
        var plan = weekly.Plan(Phase.Doors);
        Assert.InRange(weekly.PlanText.TrimEnd('\n').Split('\n').Length, 1, 80);
        Assert.Equal(40, plan.Strips.Count(strip => strip.Strip.Kind == "input"));
        Assert.True(plan.Expectations.Count > 2000, $"{plan.Expectations.Count}");
        output.WriteLine($"{plan.Expectations.Count} planned settings");
    }

    private static int Indent(string line) => line.Length - line.TrimStart(' ').Length;

    // What is said; the phase a sweep judges by; what is planned; what is found on the clean and on the changed desk; what is left to people.
    private static HashSet<string> Outcome(ShippedShow show, string planText, Phase phase, string? cue = null)
    {
        var outcome = new HashSet<string>(StringComparer.Ordinal);
        var diagnostics = new DiagnosticBag();
        if (cue is not null && show.Document(planText)?.Cues.All(line => line.Key.Text != cue) == true)
            return ["no such cue"];
        var plan = show.Compile(planText, phase, diagnostics, out var document, cue);
        foreach (var item in diagnostics.Items)
            outcome.Add($"said {item.Code.Id} {item.Message}");
        Assert.Equal(plan is null, diagnostics.HasErrors);
        if (plan is null)
            return outcome;
        outcome.Add($"sweeps in {document!.SweepPhase}");
        outcome.UnionWith(plan.Cue?.Open.Select(item => $"open: {string.Join(' ', item.Strips.Select(strip => strip.Strip.Path))}") ?? []);
        outcome.UnionWith(plan.Cue?.Closed.Select(item => $"closed: {item.Strip.Strip.Path}") ?? []);
        foreach (var expectation in plan.Expectations)
            outcome.Add($"{expectation.Setting} {ValueText.Format(expectation.Low, show.Profile.Texts)} {ValueText.Format(expectation.High, show.Profile.Texts)}");
        outcome.Add($"zone {document.Zone?.Id}");
        outcome.UnionWith(document.Schedule.Select(line => $"scheduled: {line.What} {line.At} {string.Join(' ', line.Days)} {line.On}"));
        foreach (var look in document.ByEye)
            outcome.Add($"by eye: {look.Text}");
        foreach (var coupling in plan.Couplings)
            outcome.Add($"coupling: {coupling.Microphone.Name} {plan.Loudspeakers[coupling.Loudspeaker].Words} {coupling.Loss:0.000} {coupling.By}");
        foreach (var waiver in document.Waivers)
            outcome.Add($"waived: {waiver.Finding.Text} {waiver.Owner}");
        var desk = show.CleanDesk();
        Judge(plan, desk, outcome, "clean");
        foreach (var incident in show.Incidents.Incidents)
            desk.Apply(incident);
        // No incident turns a gain, which is what guarded preamps are about.
        foreach (var gain in show.Profile.Settings.Where(setting => setting.Kind.Suffix == "gain"))
            desk.Set(gain.Path, "45 dB");
        Judge(plan, desk, outcome, "changed");
        return outcome;
    }

    private static void Judge(ShowPlan plan, DeskState state, HashSet<string> outcome, string when)
    {
        var result = new Auditor(plan).Judge(state);
        foreach (var reading in result.Ratios)
            outcome.Add($"{when}: {reading.Ratio.Subject} {reading.Ratio.Line.Within} {reading.Live}");
        foreach (var finding in result.Findings)
            outcome.Add($"{when}: {finding.Id} {finding.Severity}");
    }
}
