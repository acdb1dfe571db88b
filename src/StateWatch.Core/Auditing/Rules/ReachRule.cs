using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>An open microphone that no DCA moves at all. Common practice, no source.</summary>
internal sealed class ReachRule : IAuditRule
{
    private static readonly RuleInfo Info = new("open-mic-without-dca", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "an open microphone is on no DCA", "{0} open microphones on no DCA");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var strip in facts.Plan.Strips)
        {
            if (!strip.OpenMic)
                continue;
            var memberships = facts.Profile.SettingsOf(strip.Strip.Id).ToArray().Where(id => facts.Profile.Settings[id].Kind.Suffix == "dca/#").ToArray();
            // A microphone that the plan itself leaves out of every DCA is a matter for checking the plan.
            var planned = Array.FindIndex(memberships, id => facts.Plan.For(id) is { Planned.IsOn: true });
            if (planned >= 0)
                yield return new Check(facts.Plan.For(memberships[planned])!, memberships);
        }
    }

    private sealed class Check(Expectation expectation, int[] memberships) : RuleCheck(Info, expectation.Setting, memberships)
    {
        // 'dca-member-missing' tells the same of the one planned DCA.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state)
        {
            for (var i = 0; i < Inputs.Count; i++)
            {
                if (state[Inputs[i]].IsOn)
                    return false;
            }

            return true;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var setting = facts.Profile.Settings[Subject];
            var strip = facts.Profile.Strips[setting.Strip];
            var path = $"dca/{setting.Path[(setting.Path.LastIndexOf('/') + 1)..]}";
            var group = facts.Profile.FindStrip(path) is { } known ? facts.Words(known) : path.Replace('/', ' ');
            return new FindingWords($"{facts.Words(strip)} is an open microphone on no DCA, planned on {group}", "When it squeals, nobody finds it from the first layer of faders.",
                $"Fader down first, then add {AuditFacts.Place(strip)} to {group}.", path, group)
            {
                Short = new($"{facts.Words(strip)} is on no DCA, not even {group}", "nobody finds it when it squeals", "Fader down first, then add it", "Faders down first, then add them"),
            };
        }
    }
}
