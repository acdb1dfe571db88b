using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A strip that was put straight onto a bus which it already reaches by its planned group: it is heard twice. The one step through a
/// planned group is judged from three switches; longer ways are told as routed twice. Common practice, no source.
/// </summary>
internal sealed class DirectAndGroupRule : IAuditRule
{
    private static readonly RuleInfo Info = new("direct-and-by-group", FindingKind.Risk, SeverityByPhase.Of("NWWN"),
        "a strip goes to a bus by its group and directly as well", "{0} strips arrive twice");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var byStrip = facts.Plan.Expectations
            .Where(item => item.Planned.IsOn && facts.Profile.Settings[item.Setting].Kind is { StripKind: not "desk" })
            .Select(item => facts.Profile.Settings[item.Setting])
            .Where(setting => EdgePaths.BusOf(setting) is not null)
            .ToLookup(setting => facts.Profile.Strips[setting.Strip].Path, StringComparer.Ordinal);
        foreach (var expectation in facts.Plan.Expectations)
        {
            var edge = facts.Profile.Settings[expectation.Setting];
            if (expectation.Planned.Kind != Settings.ValueKind.Switch || expectation.Planned.IsOn || edge.Kind.StripKind != "input"
                || EdgePaths.BusOf(edge) is not { } bus || facts.FeedOf(bus) is not { } owner || !owner.Feed.Purpose.IsPublic())
                continue;
            var ways = new List<Way>();
            foreach (var way in byStrip[facts.Profile.Strips[edge.Strip].Path])
            {
                var group = EdgePaths.BusOf(way)!;
                if (group.StartsWith("group/", StringComparison.Ordinal) && byStrip[group].FirstOrDefault(onward => EdgePaths.BusOf(onward) == bus) is { } last)
                    ways.Add(new Way(way.Id, last.Id, group));
            }

            if (ways.Count > 0)
                yield return new Check(edge.Id, EdgePaths.LevelOf(facts.Profile, edge), [.. ways], bus);
        }
    }

    /// <summary>A planned way through a group.</summary>
    /// <param name="Into">The switch into the group.</param>
    /// <param name="Onward">The switch from the group to the bus.</param>
    /// <param name="Group">The group.</param>
    private readonly record struct Way(int Into, int Onward, string Group);

    private sealed class Check(int edge, int level, Way[] ways, string bus)
        : RuleCheck(Info, edge, [edge, .. ways.SelectMany(way => (int[])[way.Into, way.Onward]), .. level >= 0 ? [level] : Array.Empty<int>()])
    {
        // Without them the switch is told as a plain drift.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => state[Subject].IsOn && (level < 0 || !Shut.Is(state[level])) && Open(state) is not null;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var group = Open(state)!.Value.Group;
            var target = bus.Replace('/', ' ');
            return new FindingWords($"{facts.Words(strip)} goes to {facts.BusWords(bus)} twice: by {facts.BusWords(group)} and directly",
                "It is too loud, and hollow where the two ways differ in delay or processing; the group's fader and mute no longer close it.",
                $"Switch it off: {AuditFacts.Place(strip)} to {target}, the direct way.", $"{bus}:{group}", $"{facts.BusWords(bus)} beside {facts.BusWords(group)}")
            {
                Short = new($"{facts.Words(strip)} goes to {facts.BusWords(bus)} twice", "hollow and too loud", $"Switch it off: {AuditFacts.Place(strip)} to {target}, the direct way", "Switch these routes off, the direct ones"),
            };
        }

        private Way? Open(DeskState state)
        {
            foreach (var way in ways)
            {
                if (state[way.Into].IsOn && state[way.Onward].IsOn)
                    return way;
            }

            return null;
        }
    }
}
