using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Looks at feeds and processors of a plan that compiles for what is allowed but probably not meant.</summary>
internal sealed class LineAudit(ShowPlan plan, DiagnosticBag diagnostics)
{
    public void Run() => AuditMono();

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
