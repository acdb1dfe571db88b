using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Two strips that are linked as a stereo pair but do not agree, where the plan says nothing of either: a link that was made after the
/// fact, or a copy that went missing. Common practice, no source.
/// </summary>
internal sealed class PartnerRules : IAuditRule
{
    // How far apart linked levels may be, in dB: enough for rounding and for a read between two moves.
    private const double Apart = 1.0;

    private static readonly string[] Levels = ["fader", "trim"];

    private static readonly string[] Same = ["polarity", "low-cut", "low-cut/frequency", "delay", "eq/on", "gate/on", "comp/on", "on"];

    private static readonly RuleInfo Faders = new("linked-faders-apart", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "faders of a linked pair stand apart", "{0} linked faders apart");

    private static readonly RuleInfo Partners = new("stereo-partners-differ", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "the two sides of a linked pair are not set alike", "{0} settings differ between left and right");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Faders, Partners];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var link = facts.Profile.Settings[expectation.Setting];
            var left = facts.Profile.Strips[link.Strip];
            if (link.Kind.Suffix != "linked" || !expectation.Planned.IsOn || left.Number % 2 == 0)
                continue;
            var right = $"{left.Kind}/{left.Number + 1}";
            var otherLink = facts.Profile.Find($"{right}/linked");
            if (facts.Plan.For(otherLink) is not { Planned.IsOn: true })
                continue;
            foreach (var suffix in Levels.Concat(Same))
            {
                var (one, two) = (facts.Profile.Find($"{left.Path}/{suffix}"), facts.Profile.Find($"{right}/{suffix}"));
                if (one >= 0 && two >= 0 && facts.Plan.For(one) is null && facts.Plan.For(two) is null)
                    yield return new Check(suffix == "fader" ? Faders : Partners, one, two, link.Id, otherLink, Levels.Contains(suffix) ? Apart : 0);
            }
        }
    }

    private sealed class Check(RuleInfo rule, int left, int right, int link, int otherLink, double apart) : RuleCheck(rule, right, [right, left, link, otherLink])
    {
        // No plan line names what differs.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state)
        {
            var (one, two) = (state[left], state[Subject]);
            return state[link].IsOn && state[otherLink].IsOn && one != two && !(Math.Abs(one.Number - two.Number) <= apart && apart > 0);
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var kind = facts.Profile.Settings[Subject].Kind;
            var (one, two) = (StripOf(facts, left), StripOf(facts, Subject));
            var pair = $"{facts.Words(one)} and {facts.Words(two)}";
            var (a, b) = (facts.Profile.Format(state[left]), facts.Profile.Format(state[Subject]));
            if (kind.Suffix == "on")
                (a, b) = (a == "on" ? "open" : "muted", b == "on" ? "open" : "muted");
            var heard = kind.Suffix switch
            {
                "polarity" => "it is thin or gone where both sides are added",
                "on" => "only one side is heard",
                "delay" => "it pulls to one side and sounds hollow where both are added",
                "fader" or "trim" => "one side is louder than the other",
                _ => "the two sides sound different",
            };
            return new FindingWords($"{pair} are linked, but {(kind.Suffix == "on" ? "one is" : $"{kind.Words} is")} {a} and {(kind.Suffix == "on" ? "one " : "")}{b}",
                Sentences.Capital(heard) + ".", "Both faders down first, then set both sides alike.", one.Path, pair)
            {
                Short = new($"{pair}: {(kind.Suffix == "on" ? "one" : kind.Words)} is {a}, {(kind.Suffix == "on" ? "the other " : "")}{b}", heard,
                    kind.Class == SettingClass.Preamp ? "Faders down; call the engineer" : "Both faders down first, then set them alike"),
            };
        }

        private static Strip StripOf(AuditFacts facts, int setting) => facts.Profile.Strips[facts.Profile.Settings[setting].Strip];
    }
}
