using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A stereo pair that should reach a mono feed with both sides, of which only one arrives. Common practice, no source.</summary>
internal sealed class OneLegRule : IAuditRule
{
    // A risk: whatever a phase makes of sends, nobody wants half of a recording.
    private static readonly RuleInfo Info = new("one-leg", FindingKind.Risk, SeverityByPhase.Of("NWWW"),
        "only one side of a stereo pair reaches a mono feed", "{0} sides missing");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var plan = facts.Plan;
        foreach (var feed in plan.Feeds.Where(feed => feed.Mono))
        {
            foreach (var (left, right) in StereoPairs.Of(plan))
            {
                foreach (var bus in feed.Buses)
                {
                    if (StereoPairs.PlannedEdge(plan, left, bus) is not { } one || StereoPairs.PlannedEdge(plan, right, bus) is not { } two)
                        continue;
                    var (here, there) = (Leg.Of(facts.Profile, one.Setting), Leg.Of(facts.Profile, two.Setting));
                    yield return new Check(here, there, feed, bus);
                    yield return new Check(there, here, feed, bus);
                }
            }
        }
    }

    private readonly record struct Leg(int Edge, int Level)
    {
        public int[] Settings => Level >= 0 ? [Edge, Level] : [Edge];

        public static Leg Of(DeskProfile profile, int edge) => new(edge, EdgePaths.LevelOf(profile, profile.Settings[edge]));

        public bool Arrives(DeskState state) => state[Edge].IsOn && (Level < 0 || !double.IsNegativeInfinity(state[Level].Number));
    }

    private sealed class Check(Leg missing, Leg other, Feed feed, string bus) : RuleCheck(Info, missing.Edge, [.. missing.Settings, .. other.Settings])
    {
        public override IReadOnlyList<int> Explains { get; } = missing.Settings;

        public override bool IsViolated(DeskState state) => !missing.Arrives(state) && other.Arrives(state);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var (gone, stays) = (StripOf(facts, missing), StripOf(facts, other));
            var down = state[missing.Edge].IsOn ? " (its send is at -inf)" : "";
            return new FindingWords($"{facts.Words(stays)} reaches {facts.BusWords(bus)}, which is mono, but {facts.Words(gone)} does not{down}", $"Half of it is missing for everybody who hears '{feed.Key}'.",
                $"Bus fader down first, then send {AuditFacts.Place(gone)} to {bus.Replace('/', ' ')} as its other side.", feed.Key, $"Feed {feed.Key}")
            {
                Short = new($"{facts.Words(gone)} does not reach {facts.BusWords(bus)}", "half of the sound is missing", $"{feed.Key} down first, then switch its send on", $"{feed.Key} down first, then switch their sends on"),
            };
        }

        private static Strip StripOf(AuditFacts facts, Leg leg) => facts.Profile.Strips[facts.Profile.Settings[leg.Edge].Strip];
    }
}
