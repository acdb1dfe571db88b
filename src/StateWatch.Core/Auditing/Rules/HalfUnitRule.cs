using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A two-channel unit that is planned on two strips and sits on only one of them. Common practice, no source.</summary>
internal sealed class HalfUnitRule : IAuditRule
{
    private static readonly RuleInfo Info = new("unit-half-inserted", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a two-channel unit sits on one side of its pair", "{0} units on one side only");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        if (facts.Plan.Document.Units.All(unit => unit.Channels != 2))
            yield break;
        var none = facts.Profile.Texts.Intern("none");
        var places = new Dictionary<string, List<Expectation>>(StringComparer.Ordinal);
        UnitCheck.Collect(facts.Plan, places);
        foreach (var unit in facts.Plan.Document.Units)
        {
            if (unit.Channels != 2 || places.GetValueOrDefault(unit.Name.Text) is not { Count: 2 } both)
                continue;
            yield return new Check(both[0], both[1], InOf(facts, both[0]), none);
            yield return new Check(both[1], both[0], InOf(facts, both[1]), none);
        }
    }

    private static int InOf(AuditFacts facts, Expectation place) => facts.Profile.Find(facts.Profile.Settings[place.Setting].Path + "/in");

    private sealed class Check(Expectation missing, Expectation other, int inserted, int none)
        : RuleCheck(Info, missing.Setting, inserted >= 0 ? [missing.Setting, other.Setting, inserted] : [missing.Setting, other.Setting])
    {
        // What is inserted where is told by other rules, with or without the other side.
        public override bool PassesOverUnseen => true;

        // An insert that is in without any unit may silence the strip: 'insert-without-unit' says so, and more urgently.
        public override bool IsViolated(DeskState state) =>
            !missing.Allows(state[Subject]) && other.Allows(state[other.Setting]) && !(state[Subject].TextId == none && inserted >= 0 && state[inserted].IsOn);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var gone = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var stays = facts.Profile.Strips[facts.Profile.Settings[other.Setting].Strip];
            var unit = facts.Profile.Format(missing.Planned);
            var now = state[Subject].TextId == none ? "no insert" : $"insert {facts.Profile.Format(state[Subject])}";
            return new FindingWords($"{unit} sits on {facts.Words(stays)} but not on {facts.Words(gone)}, which has {now}", "One of the two is processed and the other is not: a pair pulls to one side, two voices no longer match.",
                $"Both faders down first, then insert {unit} on {AuditFacts.Place(gone)}.", unit, unit)
            {
                Short = new($"{unit} is on {AuditFacts.Place(stays)} but not on {facts.Words(gone)}", "one of the two sounds different", $"Both faders down first, then insert {unit}"),
            };
        }
    }
}
