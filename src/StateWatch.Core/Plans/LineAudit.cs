using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Documents;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Plans;

/// <summary>Looks at feeds and processors of a plan that compiles for what is allowed but probably not meant.</summary>
internal sealed class LineAudit(ShowPlan plan, DiagnosticBag diagnostics)
{
    public void Run()
    {
        AuditMono();
        AuditGuards();
        new CouplingAudit(plan, diagnostics).Run();
        AuditRatios();
    }

    private void AuditRatios()
    {
        if (plan.Ratios.Count == 0)
            return;
        var planned = new PlannedFlow(plan);
        foreach (var ratio in new RatioFlow(planned, planned.Routing).All)
        {
            var line = ratio.Ratio.Line;
            var names = $"{line.Of.Text} over {line.Over.Text} at '{line.At.Text}'";
            if (double.IsNaN(ratio.Planned))
                diagnostics.Add(PlanCodes.RatioNotMade, line.At.At, $"the plan makes no ratio of {names}: one of them does not arrive there or at '{ratio.Ratio.Against.Key}'", "add the way (to: or from:), or take the ratio out");
            else if (ratio.IsOff(ratio.Planned))
                diagnostics.Add(PlanCodes.RatioNotMade, line.At.At, $"the plan's own levels make {RatioReading.Text(ratio.Planned)} of {names} against '{ratio.Ratio.Against.Key}', not {RatioReading.Text(line.Be)} within {RatioReading.Text(line.Within)}; what it does not say counts as open, 0 dB and after the fader",
                    "change the send levels, or be:");
        }
    }

    // A level can only be compared with a planned one: every gain on the way needs a planned value. Told once for each guard.
    private void AuditGuards()
    {
        if (plan.Guards.Count == 0)
            return;
        var levels = new LevelFlow(plan, RoutingMap.Of(plan.Profile, plan), new DerivedFacts(plan.Profile.Settings.Count), null);
        foreach (var guard in plan.Guards)
        {
            var unfit = levels.All.Where(level => ReferenceEquals(level.Guard, guard) && !level.IsJudged).Select(level => (level.Strip.Name, Missing: MissingOf(level))).ToList();
            if (unfit.Count > 0)
                diagnostics.Add(PlanCodes.GuardNotJudged, guard.Line.LevelAt.At,
                    $"{(unfit.Count == 1 ? unfit[0].Name : $"{unfit[0].Name} and {unfit.Count - 1} more")} cannot be guarded at '{guard.Line.LevelAt.Text}': the plan says nothing of {string.Join(", ", unfit[0].Missing.Take(8))}",
                    "plan them, with a wide tolerance where they may move: fader: 0 dB within 20 dB");
        }
    }

    private static IReadOnlyList<string> MissingOf(GuardedLevel level) => !level.IsMade ? ["a way there"] : level.Unplanned is [] ? ["a level above -inf"] : level.Unplanned;

    private void AuditMono()
    {
        if (!plan.Feeds.Any(feed => feed.Mono))
            return;
        var names = plan.Strips.ToDictionary(strip => strip.Strip.Path, strip => strip.Name, StringComparer.Ordinal);
        string Name(string path) => names.GetValueOrDefault(path) ?? path.Replace('/', ' ');
        foreach (var feed in plan.Feeds.Where(feed => feed.Mono))
        {
            foreach (var (left, right) in StereoPairs.Of(plan))
            {
                foreach (var bus in feed.Buses)
                {
                    var (one, two) = (StereoPairs.PlannedEdge(plan, left, bus), StereoPairs.PlannedEdge(plan, right, bus));
                    if ((one ?? two) is { } only && (one is null || two is null) && StereoPairs.EdgeOf(plan, one is null ? left : right, bus) >= 0)
                        diagnostics.Add(PlanCodes.OneSided, only.At, $"{Name(one is null ? right : left)} goes to '{feed.Key}', which is mono, but {Name(one is null ? left : right)} does not: half of the sound is missing there",
                            "send both sides there, or neither");
                }
            }
        }
    }
}
