using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>Rules on other plans and desks than the demo's, and rules that miss an input.</summary>
public class RuleInputTests
{
    [Theory]
    [InlineData("post-fader", "stream-follows-room:group/1/send/matrix/2/tap")]
    [InlineData("pre-eq", "drift:group/1/send/matrix/2/tap")]
    public void Stream_taken_after_the_faders_follows_the_room(string tap, string id)
    {
        var plan = DemoShow.Compile(DemoShow.PlanText.Replace("stream:   { bus: matrix 2-3,", "stream:   { bus: matrix 2-3, tap: pre-fader,", StringComparison.Ordinal), Phase.Doors);
        var state = DemoShow.PlannedDesk(plan);
        Assert.Empty(new Auditor(plan).Judge(state).Findings);
        state.Set("group/1/send/matrix/2/tap", tap);
        Assert.Equal([id], new Auditor(plan).Judge(state).Findings.Select(finding => finding.Id));
    }

    [Theory]
    [InlineData("-inf", true)]
    [InlineData("-60 dB", false)]
    [InlineData("-20 dB", false)]
    public void Meter_below_sixty_decibels_is_no_signal(string level, bool silent)
    {
        var text = DemoShow.ProfileText.Split('\n').Select(line => line.Contains("\"input/{i}/signal\"", StringComparison.Ordinal)
            ? "  \"input/{i}/signal\": { at: \"/lane/{i:02}/needle\", args: [height], reset: -30 dB }" : line);
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", string.Join('\n', text)), diagnostics)!;
        var plan = PlanCompiler.Compile(PlanReader.Read(new SourceText("midwinter.plan.yaml", DemoShow.PlanText), diagnostics)!, profile, Phase.Doors, diagnostics)!;
        Assert.Empty(diagnostics.Items);
        var state = DemoShow.PlannedDesk(plan);
        state.Set("input/15/signal", level);
        Assert.Equal(silent ? ["source-silent:input/15/signal"] : [], new Auditor(plan).Judge(state).Findings.Select(finding => finding.Id));
    }

    [Theory]
    [InlineData("input/1/insert/1")]
    [InlineData("input/36/fader")]
    [InlineData("input/15/signal")]
    public void Unplanned_setting_that_was_not_seen_leaves_nothing_untold(string path)
    {
        var state = DemoShow.CleanDesk();
        state.MarkUnseen(DemoShow.Profile.Find(path), UnseenReason.NoReply);
        var result = new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state);
        Assert.Empty(result.CannotTell);
        Assert.Empty(result.Findings);
    }

    [Fact]
    public void Without_its_partner_a_shared_source_is_told_as_a_wrong_one()
    {
        var state = DemoShow.CleanDesk();
        state.Set("input/1/source", "stage 2");
        state.MarkUnseen(DemoShow.Profile.Find("input/2/source"), UnseenReason.NoReply);
        var result = new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state);
        Assert.Equal(["source-wrong:input/1/source"], result.Findings.Select(finding => finding.Id));
        Assert.Equal(["input/2/source", "input/2/source"], result.CannotTell.Select(item => item.Subject));
    }

    [Fact]
    public void What_needs_signal_flow_or_another_plan_is_named_and_nothing_else_of_the_demo_is_left_out() =>
        Assert.Equal(RuleCatalogue.All.Where(rule => RuleCases.All.Any(item => item.Rule == rule.Id && (item.Plan is not null || item.AtCue) && item.Rule is not ("on-alternate" or "muted-by-group"))), new Auditor(DemoShow.Plan(Phase.Doors)).Judge(DemoShow.CleanDesk()).NotApplicable);

    private static DeskState AsPlanned(ShowPlan plan)
    {
        var state = new DeskState(plan.Profile);
        foreach (var setting in plan.Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var expectation in plan.Expectations)
            state.Apply(expectation.Setting, expectation.Planned);
        return state;
    }
}
