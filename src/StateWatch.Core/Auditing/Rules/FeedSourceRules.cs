using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// What a public feed is planned to take straight from a strip or group, and does not: one way that is off or down to nothing, or all of
/// them. Direct edges only; what stops further up is told of what must arrive. Common practice, no source.
/// </summary>
internal sealed class FeedSourceRules : IAuditRule
{
    private static readonly RuleInfo Starved = new("feed-starved", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "nothing that a feed is planned to take is sent to it", "{0} buses get nothing");

    private static readonly RuleInfo Missing = new("feed-source-off", FindingKind.Risk, SeverityByPhase.Of("NNWW"),
        "one planned source of a feed is not sent to it", "{0} planned ways into it are shut");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Starved, Missing];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var ways = new Dictionary<string, List<Way>>(StringComparer.Ordinal);
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            if (!expectation.Planned.IsOn || setting.Kind.StripKind == "desk" || EdgePaths.BusOf(setting) is not { } bus || facts.FeedOf(bus) is not { } owner || !owner.Feed.Purpose.IsPublic())
                continue;
            var level = EdgePaths.LevelOf(facts.Profile, setting);
            if (facts.Plan.For(level) is { } planned && Shut.Is(planned.Planned))
                continue;
            if (!ways.TryGetValue(bus, out var list))
                ways.Add(bus, list = []);
            list.Add(new Way(setting.Id, level));
        }

        // Both families in the order of the buses: what is told of all of them covers what is told of one.
        foreach (var (bus, list) in ways)
        {
            yield return new StarvedCheck(list[0].On, [.. list], bus, byLevel: false);
            if (list[0].Level >= 0)
                yield return new StarvedCheck(list[0].Level, [.. list], bus, byLevel: true);
            foreach (var way in list)
            {
                yield return new MissingCheck(way.On, way, bus);
                if (way.Level >= 0)
                    yield return new MissingCheck(way.Level, way, bus);
            }
        }
    }

    /// <summary>One planned way into a bus.</summary>
    /// <param name="On">Its switch.</param>
    /// <param name="Level">Its level, or -1.</param>
    private readonly record struct Way(int On, int Level)
    {
        public int[] Settings => Level >= 0 ? [On, Level] : [On];

        public bool IsShut(DeskState state) => Shut.Is(state[On]) || (Level >= 0 && Shut.Is(state[Level]));
    }

    private sealed class StarvedCheck(int subject, Way[] ways, string bus, bool byLevel) : RuleCheck(Starved, subject, [.. ways.SelectMany(way => way.Settings)])
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

    private sealed class MissingCheck(int subject, Way way, string bus) : RuleCheck(Missing, subject, way.Settings)
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
