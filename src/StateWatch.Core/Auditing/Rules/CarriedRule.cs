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

    private sealed class Check(Setting edge, AuditFacts facts) : ExtraWayCheck(Info, edge, facts, byEffects: true)
    {
        protected override bool IsMeant(ExtraWays.Arrival arrival) => Ways.IsForbidden(arrival);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var all = All();
            var first = all[0];
            var feeds = all.Select(arrival => Ways.FeedOf(arrival).Key).Distinct(StringComparer.Ordinal).ToList();
            var names = all.Select(arrival => Ways.StripOf(arrival)?.Name ?? $"Talk circuit {facts.Flow.Map.Nodes[arrival.Source].Leg}").Distinct(StringComparer.Ordinal).ToList();
            var (cause, off) = (FlowWords.Target(facts, Edge), FlowWords.Off(facts, Edge));
            var said = Ways.SaidOf(first);
            var way = FlowWords.Way(facts, first);
            var who = Sentences.Few(names, 2);
            var (arrive, where) = (names.Count == 1 ? "arrives" : "arrive", Sentences.Few(feeds, 2));
            return new FindingWords($"{who} {arrive} at {where} by {way}, against the plan",
                said is null ? (Ways.FeedOf(first).Purpose == Purpose.Subs && Ways.StripOf(first) is { Privacy: Privacy.None } ? "Open microphones bring boom, rumble and feedback into the subs." : "Everybody there hears what is private.") : $"The plan says '{said.Said}' ({said.At.Place}): who listens there hears what must not be heard.",
                $"{off}.", cause, facts.BusWords(cause))
            {
                HeardIn = string.Join('\n', feeds),
                Short = new($"{Sentences.Few(names, 1)} {arrive} at {Sentences.Few(feeds, 1)} by {FlowWords.Step(facts, cause)}", "heard where it must not be", off, FlowWords.IsPatch(Edge) ? null : "Switch these routes off"),
            };
        }
    }
}
