using System.Globalization;
using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// One planned way straight into a bus of a public feed that is off or down to nothing. What must arrive and does not because of it is told
/// as that, which is graver. Direct edges only. Common practice, no source.
/// </summary>
internal sealed class FeedSourceOffRule : IAuditRule
{
    private static readonly RuleInfo Info = new("feed-source-off", FindingKind.Risk, SeverityByPhase.Of("NNWW"),
        "one planned source of a feed is not sent to it", "{0} planned ways into it are shut");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var (bus, list) in FeedWays.Of(facts))
        {
            foreach (var way in list)
            {
                yield return new Check(way.On, way, bus);
                if (way.Level >= 0)
                    yield return new Check(way.Level, way, bus);
            }
        }
    }

    private sealed class Check(int subject, FeedWay way, string bus) : RuleCheck(Info, subject, way.Settings)
    {
        public override IReadOnlyList<int> Explains { get; } = way.Settings;

        public override bool PassesOverUnseen => true;

        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state) => Subject == way.On ? !state[way.On].IsOn : state[way.On].IsOn && Shut.Is(state[way.Level]);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var feed = facts.FeedOf(bus)!.Value.Feed;
            var how = Subject == way.On ? "is off" : "is down to nothing";
            // What comes by another way is only weaker.
            var lost = Lost(facts, feed, strip.Id);
            var heard = lost is null ? $"it is not heard {ListenerWords.Where(feed)}" : string.Create(CultureInfo.InvariantCulture, $"it is {lost:0.0} dB weaker {ListenerWords.Where(feed)} than planned");
            return new FindingWords($"{facts.Words(strip)} does not go to {facts.BusWords(bus)}: that way {how}", $"{Sentences.Capital(heard)}.",
                $"Send or fader down first, then put {AuditFacts.Place(strip)} to {bus.Replace('/', ' ')} back.", $"{feed.Key}:{strip.Path}", $"{facts.Words(strip)} to {feed.Key}")
            {
                Short = new($"{facts.Words(strip)} does not go to {facts.BusWords(bus)}", heard, "Fader down first, then put that send back", "Fader down first, then put these sends back"),
            };
        }

        // By how much less of the strip arrives at the bus's ends than planned, in dB; null when nothing does, or as much.
        private double? Lost(AuditFacts facts, Feed feed, int strip)
        {
            var flow = facts.Flow;
            if (flow.Map.NodeOf(strip) is not (>= 0 and var node))
                return null;
            var live = flow.Live.Graph.Total(node);
            var planned = flow.Planned.Graph.Total(node);
            var number = Enumerable.Range(0, facts.Plan.Feeds.Count).First(index => facts.Plan.Feeds[index] == feed);
            var lost = double.PositiveInfinity;
            // The end that has most left: left and right of a pair are told one by one.
            foreach (var column in flow.Map.ColumnsOf(number))
            {
                if (planned[column] > 0 && IsEndOf(flow, column))
                    lost = Math.Min(lost, Decibels.OfFactor(planned[column] / live[column]));
            }

            return double.IsFinite(lost) && lost >= 0.05 ? lost : null;
        }

        // Whether the bus leads to an output of the feed.
        private bool IsEndOf(SignalFlow flow, int column) =>
            flow.Plan.Profile.FindStrip(bus) is { } target && flow.Map.NodeOf(target.Id) is >= 0 and var at && flow.Planned.Graph.Total(at)[column] > 0;
    }
}
