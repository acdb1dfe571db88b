using StateWatch.Core.Desks;

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
            return new FindingWords($"{facts.Words(strip)} does not go to {facts.BusWords(bus)}: that way {how}", $"It is not heard {ListenerWords.Where(feed)}.",
                $"Send or fader down first, then put {AuditFacts.Place(strip)} to {bus.Replace('/', ' ')} back.", $"{feed.Key}:{strip.Path}", $"{facts.Words(strip)} to {feed.Key}")
            {
                Short = new($"{facts.Words(strip)} does not go to {facts.BusWords(bus)}", $"it is not heard {ListenerWords.Where(feed)}", "Fader down first, then put that send back", "Fader down first, then put these sends back"),
            };
        }
    }
}
