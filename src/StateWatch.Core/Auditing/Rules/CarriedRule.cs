using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A source arrives where the plan does not want it, by a way of any length; told at the first connection on it that the plan does not make.
/// Common practice, no source.
/// </summary>
internal sealed class CarriedRule : IAuditRule
{
    private static readonly RuleInfo Info = new("carried-against-plan", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "a listener gets a source he must not hear, by any way", "{0} connections carry what must not arrive");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Flow.Extra.Switches)
            yield return new Check(facts.Profile.Settings[setting], facts);
    }

    private sealed class Check(Setting edge, AuditFacts facts) : RuleCheck(Info, edge.Id, [edge.Id])
    {
        // Of what a plan line names coverage tells.
        public override bool PassesOverUnseen { get; } = facts.Plan.For(edge.Id) is not null;

        public override IReadOnlyList<int> Facts { get; } = [facts.Flow.Extra.FactOf(edge.Id)];

        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state)
        {
            if (!FlowWords.IsPatch(edge) && !state[Subject].IsOn)
                return false;
            var any = new Any();
            return facts.Flow.Extra.Visit(Subject, byEffects: true, ref any);
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var all = new All([]);
            facts.Flow.Extra.Visit(Subject, byEffects: true, ref all);
            var first = all.Found[0];
            var feeds = all.Found.Select(arrival => facts.Plan.Feeds[arrival.Feed].Key).Distinct(StringComparer.Ordinal).ToList();
            var names = all.Found.Select(arrival => facts.Flow.Extra.StripOf(arrival)?.Name ?? $"Talk circuit {facts.Flow.Map.Nodes[arrival.Source].Leg}").Distinct(StringComparer.Ordinal).ToList();
            var (cause, off) = (FlowWords.Target(facts, edge), FlowWords.Off(facts, edge));
            var said = facts.Flow.Extra.SaidOf(first);
            var way = FlowWords.Way(facts, first);
            var who = Sentences.Few(names, 2);
            var (arrive, where) = (names.Count == 1 ? "arrives" : "arrive", Sentences.Few(feeds, 2));
            return new FindingWords($"{who} {arrive} at {where} by {way}, against the plan",
                said is null ? (facts.Plan.Feeds[first.Feed].Purpose == Purpose.Subs && facts.Flow.Extra.StripOf(first) is { Privacy: Privacy.None } ? "Open microphones bring boom, rumble and feedback into the subs." : "Everybody there hears what is private.") : $"The plan says '{said.Said}' ({said.At.Place}): who listens there hears what must not be heard.",
                $"{off}.", cause, facts.BusWords(cause))
            {
                HeardIn = string.Join('\n', feeds),
                Short = new($"{Sentences.Few(names, 1)} {arrive} at {Sentences.Few(feeds, 1)} by {FlowWords.Step(facts, cause)}", "heard where it must not be", off, FlowWords.IsPatch(edge) ? null : "Switch these routes off"),
            };
        }
    }

    private struct Any : ExtraWays.IVisitor
    {
        public readonly bool Take(ExtraWays ways, ExtraWays.Arrival arrival) => ways.IsForbidden(arrival);
    }

    private readonly struct All(List<ExtraWays.Arrival> found) : ExtraWays.IVisitor
    {
        public List<ExtraWays.Arrival> Found { get; } = found;

        public bool Take(ExtraWays ways, ExtraWays.Arrival arrival)
        {
            if (ways.IsForbidden(arrival))
                Found.Add(arrival);
            return false;
        }
    }
}
