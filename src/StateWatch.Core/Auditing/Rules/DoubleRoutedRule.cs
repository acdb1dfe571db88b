using System.Globalization;
using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A source arrives at a feed by the planned way and by one more, told at the connection that the plan does not make. Ways into effects are
/// left out: their return is meant to add. A second way more than 20 dB below the first is left to the drift: it moves the level by less
/// than 1 dB (20·log10(1 + 10^(-20/20)) = 0.83 dB). Common practice, no source.
/// </summary>
internal sealed class DoubleRoutedRule : IAuditRule
{
    /// <summary>From how much rise on it is told: a second way 20 dB below the first.</summary>
    public const double Rise = 1.1;

    private static readonly RuleInfo Info = new("double-routed", FindingKind.Risk, SeverityByPhase.Of("NWWN"),
        "a source reaches a listener by two ways", "{0} connections make sources arrive twice");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Flow.Extra.Switches)
        {
            if (facts.Profile.Settings[setting] is { Kind.StripKind: not "desk" } edge && facts.FeedOf(EdgePaths.BusOf(edge) ?? "") is not { Feed.Purpose: Purpose.Effects })
                yield return new Check(edge, facts);
        }
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
            var any = new Any(facts);
            return facts.Flow.Extra.Visit(Subject, byEffects: false, ref any);
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var all = new All(facts, []);
            facts.Flow.Extra.Visit(Subject, byEffects: false, ref all);
            var worst = all.Found.MaxBy(facts.Flow.Extra.Rise);
            var feeds = all.Found.Select(arrival => facts.Plan.Feeds[arrival.Feed].Key).Distinct(StringComparer.Ordinal).ToList();
            var names = all.Found.Select(arrival => facts.Flow.Extra.StripOf(arrival)!.Name).Distinct(StringComparer.Ordinal).ToList();
            var (who, where, arrive) = (Sentences.Few(names, 2), Sentences.Few(feeds, 2), names.Count == 1 ? "arrives" : "arrive");
            var (cause, off, by) = (FlowWords.Target(facts, edge), FlowWords.Off(facts, edge), FlowWords.Step(facts, FlowWords.Target(facts, edge)));
            var sum = Decibels.OfFactor(facts.Flow.Extra.Rise(worst));
            return new FindingWords($"{who} {arrive} twice at {where}: as planned, and by {FlowWords.Way(facts, worst)}", FlowWords.Together(facts, worst), $"{off}.", cause, facts.BusWords(cause))
            {
                HeardIn = string.Join('\n', feeds),
                Short = new($"{(names.Count == 1 ? $"{names[0]} arrives" : $"{names[0]} and {names.Count - 1} more arrive")} twice at {Sentences.Few(feeds, 1)}, by {by} too",
                    string.Create(CultureInfo.InvariantCulture, $"hollow, up to {sum:0} dB too loud"), off, FlowWords.IsPatch(edge) ? null : "Switch these routes off"),
            };
        }
    }

    private static bool IsTwice(AuditFacts facts, ExtraWays ways, ExtraWays.Arrival arrival) =>
        IsListenedTo(facts.Plan.Feeds[arrival.Feed]) && ways.StripOf(arrival) is not null && ways.Rise(arrival) >= Rise;

    private static bool IsListenedTo(Feed feed) => feed.Purpose is not (Purpose.Parallel or Purpose.Effects or Purpose.Group);

    private readonly struct Any(AuditFacts facts) : ExtraWays.IVisitor
    {
        public bool Take(ExtraWays ways, ExtraWays.Arrival arrival) => IsTwice(facts, ways, arrival);
    }

    private readonly struct All(AuditFacts facts, List<ExtraWays.Arrival> found) : ExtraWays.IVisitor
    {
        public List<ExtraWays.Arrival> Found { get; } = found;

        public bool Take(ExtraWays ways, ExtraWays.Arrival arrival)
        {
            if (IsTwice(facts, ways, arrival))
                Found.Add(arrival);
            return false;
        }
    }
}
