using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Left and right of a stereo source or feed: crossed, or one side on both. Common practice, no source.</summary>
internal sealed class CrossedRules : IAuditRule
{
    private static readonly RuleInfo Crossed = new("stereo-crossed", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "left and right of a stereo pair are crossed", "left and right are crossed");

    private static readonly RuleInfo OneSide = new("stereo-one-side", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "both outputs of a stereo feed carry the same side", "{0} outputs with the other side");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Crossed, OneSide];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            var strip = facts.Profile.Strips[setting.Strip];
            if (setting.Kind.Suffix == "linked" && expectation.Planned.IsOn && strip.Number % 2 == 1
                && facts.Plan.For(facts.Profile.Find($"{strip.Kind}/{strip.Number + 1}/linked")) is { Planned.IsOn: true }
                && Source(facts, strip.Path) is { } left && Source(facts, $"{strip.Kind}/{strip.Number + 1}") is { } right)
                yield return new CrossedCheck(left, right, isOutput: false);
        }

        foreach (var feed in facts.Plan.Feeds)
        {
            for (var i = 0; feed.Stereo && feed.Buses.Count <= 2 && i + 1 < feed.Outputs.Count; i += 2)
            {
                if (Source(facts, feed.Outputs[i]) is not { } left || Source(facts, feed.Outputs[i + 1]) is not { } right || left.Planned == right.Planned)
                    continue;
                yield return new CrossedCheck(left, right, isOutput: true);
                yield return new OneSideCheck(left, right);
                yield return new OneSideCheck(right, left);
            }
        }
    }

    private static Expectation? Source(AuditFacts facts, string strip) => facts.Plan.For(facts.Profile.Find($"{strip}/source"));

    private static Strip StripOf(AuditFacts facts, Expectation expectation) => facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];

    private sealed class CrossedCheck(Expectation left, Expectation right, bool isOutput) : RuleCheck(Crossed, left.Setting, [left.Setting, right.Setting])
    {
        public override IReadOnlyList<int> Explains { get; } = [right.Setting];

        // What is patched where is told by other rules, with or without the partner.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) =>
            left.Planned != right.Planned && state[left.Setting] == right.Planned && state[right.Setting] == left.Planned;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var (one, two) = (StripOf(facts, left), StripOf(facts, right));
            var lead = isOutput ? "Bus fader down first" : "Both faders down first";
            return new FindingWords($"{facts.Words(one)} and {facts.Words(two)} are crossed", "What belongs on the left is heard on the right.",
                $"{lead}, then patch {AuditFacts.Place(one)} to {facts.Profile.Format(left.Planned)} and {AuditFacts.Place(two)} to {facts.Profile.Format(right.Planned)}; leave this to whoever knows the patch.",
                one.Path, facts.Words(one))
            {
                Short = new($"{facts.Words(one)} and {facts.Words(two)} are crossed", "left is heard on the right", $"{(isOutput ? "Bus fader" : "Faders")} down; call the engineer"),
            };
        }
    }

    private sealed class OneSideCheck(Expectation expectation, Expectation other) : RuleCheck(OneSide, expectation.Setting, [expectation.Setting])
    {
        public override bool IsViolated(DeskState state) => state[Subject] == other.Planned;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = StripOf(facts, expectation);
            var planned = facts.Profile.Format(expectation.Planned);
            var feed = facts.FeedAt(strip.Path)?.Key ?? strip.Path;
            return new FindingWords($"{facts.Words(strip)} carries {facts.Profile.Format(state[Subject])}, planned {planned}", "Half of what is played is missing, the other half is heard on both sides.",
                $"Bus fader down first, then patch {AuditFacts.Place(strip)} to {planned}; leave this to whoever knows the patch.", feed, $"Feed {feed}")
            {
                Short = new($"{facts.Words(strip)} carries the other side", "half of the sound is missing", "Bus fader down; call the engineer"),
            };
        }
    }
}
