using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>An effect that feeds itself, or stays open when effects are muted. Direct edges only. Common practice, no source.</summary>
internal sealed class EffectRules : IAuditRule
{
    private static readonly RuleInfo Loop = new("effect-into-itself", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "an effect's return goes into the effect's own send", "{0} ways of an effect into itself");

    private static readonly RuleInfo Outside = new("effect-outside-mute-group", FindingKind.Drift, SeverityByPhase.Of("NWUU"),
        "an effect's return fell out of its mute group", "{0} effects outside their mute group");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Loop, Outside];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var line in facts.Plan.Document.Effects)
        {
            if (line.Return is null || !NumberSet.TryParseWithWord(line.Return.Text, out var kind, out var numbers)
                || !NumberSet.TryParseWithWord(line.Send.Text, out var busKind, out var buses))
                continue;
            foreach (var strip in numbers.Select(number => facts.Profile.FindStrip($"{kind}/{number}")).OfType<Strip>())
            {
                foreach (var bus in buses.Select(number => $"{busKind}/{number}"))
                {
                    if (Edge(facts.Profile, strip, bus) is { } edge && facts.Plan.For(edge.Id) is not { Planned.IsOn: true })
                        yield return new LoopCheck(edge, facts.Profile.Find($"{strip.Path}/send/{bus}/level"), bus);
                }

                foreach (var id in facts.Profile.SettingsOf(strip.Id).ToArray())
                {
                    if (facts.Profile.Settings[id].Kind.Suffix == "mute-group/#" && facts.Plan.For(id) is { Planned.IsOn: true } expectation)
                        yield return new ExpectationCheck(Outside, expectation, null, DescribeOutside);
                }
            }
        }
    }

    private static Setting? Edge(DeskProfile profile, Strip strip, string bus)
    {
        var id = profile.Find($"{strip.Path}/send/{bus}/on");
        if (id < 0)
            id = profile.Find($"{strip.Path}/assign/{bus}");
        return id < 0 ? null : profile.Settings[id];
    }

    private static FindingWords DescribeOutside(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var setting = facts.Profile.Settings[expectation.Setting];
        var strip = facts.Profile.Strips[setting.Strip];
        var path = $"mute-group/{setting.Path[(setting.Path.LastIndexOf('/') + 1)..]}";
        var group = facts.Profile.FindStrip(path) is { } known ? facts.Words(known) : path.Replace('/', ' ');
        return new FindingWords($"The effect {facts.Words(strip)} is not in {group}", "It stays open under speech when the effects should be muted.",
            $"Add {AuditFacts.Place(strip)} to {group}.", path, group)
        {
            Short = new($"The effect {facts.Words(strip)} is not in {group}", "it stays on under speech", "Add it", "Add them"),
        };
    }

    private sealed class LoopCheck(Setting edge, int level, string bus) : RuleCheck(Loop, edge.Id, level >= 0 ? [edge.Id, level] : [edge.Id])
    {
        public override bool IsViolated(DeskState state) =>
            state[edge.Id].IsOn && (level < 0 || !double.IsNegativeInfinity(state[level].Number));

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[edge.Strip];
            return new FindingWords($"The effect {facts.Words(strip)} goes back into its own send {facts.BusWords(bus)}", $"It feeds itself{Once(facts)}: it rings, swells and squeals without anybody singing.",
                $"Switch it off: {AuditFacts.Place(strip)}, send to {bus.Replace('/', ' ')}.", strip.Path, facts.Words(strip))
            {
                Short = new($"{facts.Words(strip)} goes into its own send {facts.BusWords(bus)}", "it swells and squeals", $"Switch its send to {bus.Replace('/', ' ')} off"),
            };
        }

        // What the effect itself adds or takes no setting tells.
        private string Once(AuditFacts facts) => facts.Flow.Circles.IsAt(Subject)
            ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $", once round {facts.Flow.Circles.Of(Subject).Gain:0.0} dB besides what the effect adds") : "";
    }
}
