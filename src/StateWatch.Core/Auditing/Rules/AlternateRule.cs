using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A channel that runs on the spare microphone the plan gives it: somebody swapped on purpose, so it is no fault, but good to know. Common practice, no source.</summary>
internal sealed class AlternateRule : IAuditRule
{
    private static readonly RuleInfo Info = new("on-alternate", FindingKind.Drift, SeverityByPhase.Of("NNNN"),
        "a channel runs on its spare microphone", "{0} channels on their spare microphones");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var none = facts.Profile.Texts.Intern("none");
        foreach (var spare in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[spare.Setting];
            if (setting.Kind.Suffix != "source/alternate" || spare.Planned.TextId == none)
                continue;
            if (facts.Plan.For(facts.Profile.Find(setting.Path[..^"/alternate".Length])) is { } source && source.Planned.TextId != none && source.Planned != spare.Planned)
                yield return new Check(source, spare);
        }
    }

    private sealed class Check(Expectation source, Expectation spare) : RuleCheck(Info, source.Setting, [source.Setting])
    {
        // Without its source the channel is unseen, which coverage tells.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => state[Subject] == spare.Planned;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var (now, planned) = (facts.Profile.Format(spare.Planned), facts.Profile.Format(source.Planned));
            return new FindingWords($"{facts.Words(strip)} runs on its spare microphone ({now}), planned {planned}", "It is heard by another microphone, which may differ in tone and level.",
                $"Do not change it while somebody speaks; later, fader down first, patch {AuditFacts.Place(strip)} back to {planned}. Leave this to whoever knows the patch.", strip.Path, facts.Words(strip))
            {
                Short = new($"{facts.Words(strip)} runs on its spare microphone", "it may sound a little different", "Do not change it now; call the engineer when there is time"),
            };
        }
    }
}
