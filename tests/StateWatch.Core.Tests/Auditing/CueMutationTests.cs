using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>At every shipped cue: each strip it closes, opened; each it opens, muted. What is open and closed comes from the naive reading of the plan.</summary>
public class CueMutationTests
{
    [Theory]
    [MemberData(nameof(ShippedShow.AtAllCues), MemberType = typeof(ShippedShow))]
    public void Strip_that_is_not_as_the_cue_wants_it_is_told_and_nothing_else(string show, string cue)
    {
        var shipped = ShippedShow.Of(show);
        var naive = new NaiveChecker(shipped.PlanText, NaiveDesk.Of(shipped.DeskFile), shipped.Profile.Settings.Select(setting => setting.Path), "show", cue).Cue!;
        var auditor = new Core.Auditing.Auditor(shipped.Plan(Phase.Show, cue));
        var state = shipped.DeskAt(cue);
        foreach (var (strip, text, rule) in naive.Closed.Select(strip => (strip, "on", "cue-not-closed")).Concat(naive.Open.Select(strip => (strip, "off", "cue-not-open"))))
        {
            state.Set($"{strip}/on", text);
            var finding = Assert.Single(auditor.Judge(state).Findings);
            Assert.Equal((rule, strip), (finding.Rule.Id, finding.Strip));
            state.Set($"{strip}/on", text == "on" ? "off" : "on");
        }

        Assert.Empty(auditor.Judge(state).Findings);
    }
}
