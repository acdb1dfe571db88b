using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A parked channel that is open and goes somewhere. Common practice, no source.</summary>
internal sealed class ParkedRule : IAuditRule
{
    private static readonly RuleInfo Info = new("parked-open", FindingKind.Risk, SeverityByPhase.Of("WUUU"),
        "a channel that should carry nothing is open", "{0} parked channels are open");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var strip in facts.Plan.Parked)
        {
            var on = facts.Profile.Find($"{strip.Path}/on");
            var edges = facts.Profile.SettingsOf(strip.Id).ToArray().Where(id => facts.Profile.Settings[id].Kind.Suffix is "assign/<bus>/#" or "send/<bus>/#/on").ToArray();
            if (on >= 0 && edges.Length > 0)
                yield return new Check(strip, on, edges);
        }
    }

    private sealed class Check(Strip strip, int on, int[] edges) : RuleCheck(Info, on, [on, .. edges])
    {
        public override IReadOnlyList<int> Explains => edges;

        // One that stands open in a circle of buses is told as that.
        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state)
        {
            if (!state[Subject].IsOn)
                return false;
            foreach (var edge in edges)
            {
                if (state[edge].IsOn)
                    return true;
            }

            return false;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var buses = edges.Where(edge => state[edge].IsOn).Select(edge => facts.BusWords(EdgePaths.BusOf(facts.Profile.Settings[edge])!)).Take(3).ToList();
            var where = string.Join(", ", buses);
            return new FindingWords($"{Sentences.Capital(AuditFacts.Place(strip))} is parked, but it is open and goes to {where}",
                "Whatever is plugged in there is heard, and no label says what it is.", $"Fader down first, then mute {AuditFacts.Place(strip)}, and ask whose it is.", "parked", "Parked channels")
            {
                Short = new($"{Sentences.Capital(AuditFacts.Place(strip))} should be unused but is open", $"heard in {where}", "Fader down first, then mute it; ask whose it is", "Faders down first, then mute them; ask whose they are"),
            };
        }
    }
}
