using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A planned processor that is missing, or sits on the strip beside it. Common practice, no source.</summary>
internal sealed class InsertRules : IAuditRule
{
    private static readonly RuleInfo Neighbour = new("insert-on-neighbour", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "an insert sits on the strip beside the planned one", "{0} inserts on the strip beside");

    private static readonly RuleInfo Missing = new("insert-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a planned insert is missing or another", "{0} inserts missing");

    private static readonly RuleInfo Empty = new("insert-without-unit", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "an insert is in, but its unit is missing", "{0} inserts without their unit");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Neighbour, Empty, Missing];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var none = facts.Profile.Texts.Intern("none");
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            if (setting.Kind.Suffix != "insert/#" || expectation.Planned.TextId == none)
                continue;
            var strip = facts.Profile.Strips[setting.Strip];
            var beside = new List<int>();
            foreach (var number in (ReadOnlySpan<int>)[strip.Number - 1, strip.Number + 1])
            {
                var id = facts.Profile.Find($"{strip.Kind}/{number}/{setting.Path[(strip.Path.Length + 1)..]}");
                if (id >= 0 && facts.Plan.For(id)?.Planned != expectation.Planned)
                    beside.Add(id);
            }

            if (beside.Count > 0)
                yield return new NeighbourCheck(expectation, [.. beside]);
            if (facts.Profile.Find(setting.Path + "/in") is >= 0 and var inserted)
                yield return new EmptyCheck(expectation, inserted, none);
            yield return new ExpectationCheck(Missing, expectation, null, (known, planned, live) =>
            {
                var where = known.Profile.Strips[known.Profile.Settings[planned.Setting].Strip];
                var unit = live.TextId == none ? "no insert" : $"insert {known.Profile.Format(live)}";
                return new FindingWords($"{known.Words(where)} has {unit}, planned {known.Profile.Format(planned.Planned)}",
                    "The channel is silent or unprocessed.", $"Fader down first, then insert {known.Profile.Format(planned.Planned)} on {AuditFacts.Place(where)}.", where.Path, known.Words(where))
                {
                    Short = new($"{known.Words(where)} has {unit}, not {known.Profile.Format(planned.Planned)}", "it is silent or unprocessed",
                        $"Fader down first, then insert {known.Profile.Format(planned.Planned)}"),
                };
            });
        }
    }

    private sealed class EmptyCheck(Expectation expectation, int inserted, int none) : RuleCheck(Empty, expectation.Setting, [expectation.Setting, inserted])
    {
        public override bool IsViolated(DeskState state) => state[Subject].TextId == none && state[inserted].IsOn;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var unit = facts.Profile.Format(expectation.Planned);
            return new FindingWords($"{facts.Words(strip)} has its insert in, but no unit there; planned {unit}", "The signal may end there: the channel is silent.",
                $"Fader down first, then insert {unit} on {AuditFacts.Place(strip)}.", strip.Path, facts.Words(strip))
            {
                Short = new($"{facts.Words(strip)} has an insert without its unit {unit}", "it may be silent", $"Fader down first, then insert {unit}"),
            };
        }
    }

    private sealed class NeighbourCheck(Expectation expectation, int[] beside) : RuleCheck(Neighbour, expectation.Setting, [expectation.Setting, .. beside])
    {
        public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]) && Holder(state) >= 0;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var planned = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var holder = facts.Profile.Strips[facts.Profile.Settings[Holder(state)].Strip];
            var unit = facts.Profile.Format(expectation.Planned);
            return new FindingWords($"{unit} is inserted on {facts.Words(holder)}, planned on {facts.Words(planned)}",
                $"{facts.NameOf(planned) ?? planned.Path} is unprocessed, and its neighbour is processed by the wrong settings.",
                $"Both faders down first, then move {unit} from {AuditFacts.Place(holder)} to {AuditFacts.Place(planned)}.", planned.Path, facts.Words(planned))
            {
                Short = new($"{unit} is on {AuditFacts.Place(holder)}, not on {facts.Words(planned)}", "the wrong one is processed",
                    "Both faders down first, then move it"),
            };
        }

        private int Holder(DeskState state)
        {
            foreach (var id in beside)
            {
                SettingValue live = state[id];
                if (live == expectation.Planned)
                    return id;
            }

            return -1;
        }
    }
}
