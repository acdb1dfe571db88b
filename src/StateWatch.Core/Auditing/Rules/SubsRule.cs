using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>An open microphone in the low-frequency feed. Common practice, no source.</summary>
internal sealed class SubsRule : IAuditRule
{
    private static readonly RuleInfo Info = new("subs-on-open-mic", FindingKind.Risk, SeverityByPhase.Of("WWUU"),
        "an open microphone is in the low-frequency feed", "{0} open microphones in the low-frequency feed");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Profile.Settings)
        {
            if (facts.StripOf(setting.Strip) is not { OpenMic: true } || EdgePaths.BusOf(setting) is not { } bus
                || facts.FeedOf(bus) is not { Feed.Purpose: Purpose.Subs } || facts.Plan.For(setting.Id) is { Planned.IsOn: true })
                continue;
            var level = EdgePaths.LevelOf(facts.Profile, setting);
            yield return new Check(setting, level, bus);
        }
    }

    private sealed class Check(Setting edge, int level, string bus) : RuleCheck(Info, edge.Id, level >= 0 ? [edge.Id, level] : [edge.Id])
    {
        public override bool IsViolated(DeskState state) =>
            state[edge.Id].IsOn && (level < 0 || !double.IsNegativeInfinity(state[level].Number));

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[edge.Strip];
            return new FindingWords($"{facts.Words(strip)} is on in the low-frequency feed {facts.BusWords(bus)}",
                "Boom, rumble and feedback in the subwoofers.", $"Switch it off: {AuditFacts.Place(strip)}, send to {bus.Replace('/', ' ')}.", bus, $"Low-frequency feed {facts.BusWords(bus)}")
            {
                Short = new($"{facts.Words(strip)} is in {facts.BusWords(bus)}", "boom, rumble, feedback", $"Switch its send to {bus.Replace('/', ' ')} off", $"Switch their sends to {bus.Replace('/', ' ')} off"),
            };
        }
    }
}
