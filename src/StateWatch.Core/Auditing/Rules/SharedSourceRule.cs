using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A channel that left its planned socket for one which another planned channel uses: two faders, one microphone. Common practice, no
/// source.
/// </summary>
internal sealed class SharedSourceRule : IAuditRule
{
    private static readonly RuleInfo Info = new("source-shared", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "two channels take one socket, which was not planned", "{0} channels on a socket of another one");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var none = facts.Profile.Texts.Intern("none");
        var sources = facts.Plan.Expectations
            .Where(item => facts.Profile.Settings[item.Setting].Kind is { Suffix: "source", StripKind: "input" } && item.Planned.TextId != none)
            .ToList();
        var all = sources.Select(item => item.Setting).ToArray();
        return sources.Count < 2 ? [] : sources.Select(item => new Check(item, all, none));
    }

    private sealed class Check(Expectation expectation, int[] sources, int none) : RuleCheck(Info, expectation.Setting, sources)
    {
        // 'source-wrong' tells the same with fewer words.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]) && Partner(state) >= 0;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = StripOf(facts, Subject);
            var partner = StripOf(facts, Partner(state));
            var live = facts.Profile.Format(state[Subject]);
            var planned = facts.Profile.Format(expectation.Planned);
            return new FindingWords($"{facts.Words(strip)} takes {live} as {facts.Words(partner)} does, planned {planned}",
                $"Two faders carry one microphone; what belongs on {facts.NameOf(strip) ?? strip.Path} is not heard, and the other is too loud.",
                $"Fader down first, then patch {AuditFacts.Place(strip)} to {planned}; leave this to whoever knows the patch.", strip.Path, facts.Words(strip))
            {
                Short = new($"{facts.Words(strip)} takes the socket of {facts.Words(partner)}", "one microphone on two faders", "Fader down; call the engineer"),
            };
        }

        private static Strip StripOf(AuditFacts facts, int setting) => facts.Profile.Strips[facts.Profile.Settings[setting].Strip];

        private int Partner(DeskState state)
        {
            var live = state[Subject];
            if (live.TextId == none)
                return -1;
            for (var i = 0; i < Inputs.Count; i++)
            {
                if (Inputs[i] != Subject && state[Inputs[i]] == live)
                    return Inputs[i];
            }

            return -1;
        }
    }
}
