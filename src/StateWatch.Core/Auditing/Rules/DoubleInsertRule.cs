using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A planned unit that sits at its planned place and somewhere else as well: a unit has one input and one output. Common practice, no
/// source. A unit with two channels may sit on the two strips it is planned on.
/// </summary>
internal sealed class DoubleInsertRule : IAuditRule
{
    private static readonly RuleInfo Info = new("insert-twice", FindingKind.Risk, SeverityByPhase.Of("NWWW"),
        "one unit is inserted in two places", "{0} places take a unit that is in use");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var places = new Dictionary<string, List<Expectation>>(StringComparer.Ordinal);
        UnitCheck.Collect(facts.Plan, places);
        var channels = facts.Plan.Document.Units.ToDictionary(unit => unit.Name.Text, unit => unit.Channels, StringComparer.Ordinal);
        // A unit that the plan itself names twice is one of several alike, unless the plan lists its channels: then it may sit on as many strips.
        var units = places.Where(unit => unit.Value.Count == channels.GetValueOrDefault(unit.Key, 1)).Select(unit => unit.Value.ToArray()).ToArray();
        if (units.Length == 0)
            yield break;
        foreach (var setting in facts.Profile.Settings)
        {
            if (setting.Kind.Suffix == "insert/#" && units.Where(unit => unit.All(item => item.Setting != setting.Id)).ToArray() is { Length: > 0 } others)
                yield return new Check(setting.Id, others);
        }
    }

    private sealed class Check(int place, Expectation[][] units) : RuleCheck(Info, place, [place, .. units.SelectMany(unit => unit).Select(item => item.Setting)])
    {
        // Coverage tells which planned inserts were unseen; no plan line names the other places.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => Owner(state) is not null;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var owner = facts.Profile.Strips[facts.Profile.Settings[Owner(state)!.Setting].Strip];
            var unit = facts.Profile.Format(state[Subject]);
            var where = strip == owner ? $"twice on {facts.Words(strip)}" : $"on {facts.Words(strip)} and on {facts.Words(owner)}";
            return new FindingWords($"{unit} is inserted {where}", "One of the two is silent, or both are heard in each other's channel.",
                $"Both faders down first, then take {unit} out of {AuditFacts.Place(strip)}.", unit, unit)
            {
                Short = new($"{unit} is inserted {where}", "one of them may be silent",
                    $"Both faders down first, then take it out of {AuditFacts.Place(strip)}", "Those faders down first, then take it out where it was not planned"),
            };
        }

        private Expectation? Owner(DeskState state)
        {
            SettingValue live = state[Subject];
            foreach (var unit in units)
            {
                // Taken twice only when every channel is where it was planned.
                var taken = 0;
                foreach (var item in unit)
                    taken += live == item.Planned && state[item.Setting] == live ? 1 : 0;
                if (taken == unit.Length)
                    return unit[0];
            }

            return null;
        }
    }
}
