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

    private sealed class Check(Setting edge, AuditFacts facts) : ExtraWayCheck(Info, edge, facts, byEffects: false)
    {
        protected override bool IsMeant(ExtraWays.Arrival arrival) =>
            Ways.FeedOf(arrival).Purpose is not (Purpose.Parallel or Purpose.Effects or Purpose.Group) && Ways.StripOf(arrival) is not null && Ways.Rise(arrival) >= Rise;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var all = All();
            var worst = all.MaxBy(Ways.Rise);
            var feeds = all.Select(arrival => Ways.FeedOf(arrival).Key).Distinct(StringComparer.Ordinal).ToList();
            var names = all.Select(arrival => Ways.StripOf(arrival)!.Name).Distinct(StringComparer.Ordinal).ToList();
            var (who, where, arrive) = (Sentences.Few(names, 2), Sentences.Few(feeds, 2), names.Count == 1 ? "arrives" : "arrive");
            var (cause, off, by) = (FlowWords.Target(facts, Edge), FlowWords.Off(facts, Edge), FlowWords.Step(facts, FlowWords.Target(facts, Edge)));
            var sum = Decibels.OfFactor(Ways.Rise(worst));
            return new FindingWords($"{who} {arrive} twice at {where}: as planned, and by {FlowWords.Way(facts, worst)}", FlowWords.Together(facts, worst), $"{off}.", cause, facts.BusWords(cause))
            {
                HeardIn = string.Join('\n', feeds),
                Short = new($"{(names.Count == 1 ? $"{names[0]} arrives" : $"{names[0]} and {names.Count - 1} more arrive")} twice at {Sentences.Few(feeds, 1)}, by {by} too",
                    string.Create(CultureInfo.InvariantCulture, $"hollow, up to {sum:0} dB too loud"), off, FlowWords.IsPatch(Edge) ? null : "Switch these routes off"),
            };
        }
    }
}
