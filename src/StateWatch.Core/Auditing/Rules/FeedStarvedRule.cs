using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A bus of a public feed to which nothing is sent of what it is planned to take straight from strips and groups. Direct edges only; what
/// stops further up is told of what must arrive. Common practice, no source.
/// </summary>
internal sealed class FeedStarvedRule : IAuditRule
{
    private static readonly RuleInfo Info = new("feed-starved", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "nothing that a feed is planned to take is sent to it", "{0} buses get nothing");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var (bus, list) in FeedWays.Of(facts))
        {
            yield return new Check(list[0].On, [.. list], bus, byLevel: false);
            if (list[0].Level >= 0)
                yield return new Check(list[0].Level, [.. list], bus, byLevel: true);
        }
    }

    private sealed class Check(int subject, FeedWay[] ways, string bus, bool byLevel) : RuleCheck(Info, subject, [.. ways.SelectMany(way => way.Settings)])
    {
        public override IReadOnlyList<int> Explains => Inputs;

        // What was not seen of these is coverage; without it the shut ones are told one by one.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state)
        {
            foreach (var way in ways)
            {
                if (!way.IsShut(state))
                    return false;
            }

            return byLevel == state[ways[0].On].IsOn;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var feed = facts.FeedOf(bus)!.Value.Feed;
            var what = $"{facts.BusWords(bus)} gets nothing: all {ways.Length} planned ways into it are off or down";
            if (ways.Length == 1)
                what = $"{facts.BusWords(bus)} gets nothing: the one planned way into it is off or down";
            var heard = ListenerWords.Silent(feed);
            return new FindingWords(what, Sentences.Capital(heard) + ".",
                $"Output fader down first, then put the sends to {bus.Replace('/', ' ')} back one by one.", feed.Key, $"Feed {feed.Key}")
            {
                Short = new(what, heard, $"{Sentences.Capital(feed.Key)} fader down first, then put the sends back"),
            };
        }
    }
}
