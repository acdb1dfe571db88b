using System.Globalization;
using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Buses that feed each other. With a gain of 1 or more once round it builds up without any microphone; below that it rings, at some
/// frequencies 1 / (1 - g) louder (J. O. Smith, Physical Audio Signal Processing, feedback comb filters), and whoever raises one fader makes it
/// howl.
/// </summary>
internal sealed class ElectricalLoopRule : IAuditRule
{
    private static readonly RuleInfo Info = new("electrical-loop", FindingKind.Risk, SeverityByPhase.Of("UUUU"),
        "buses feed each other in a circle", "{0} circles of buses");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Flow.Circles.Subjects)
            yield return new Check(setting, facts);
    }

    private sealed class Check(int subject, AuditFacts facts) : RuleCheck(Info, subject, [subject])
    {
        // Of what a plan line names coverage tells; a patch nobody saw is not plugged.
        public override bool PassesOverUnseen { get; } = facts.Plan.For(subject) is not null || facts.Profile.Settings[subject].Kind.Suffix == "source";

        public override IReadOnlyList<int> Facts { get; } = [facts.Flow.Circles.FactOf(subject)];

        // Its switches and patches, and the inputs that stand open in the middle of it.
        public override void AddExplained(DeskState state, List<int> explained) => explained.AddRange(facts.Flow.Circles.SettingsOf(Subject));

        public override string? SubjectPath(DeskState state) => facts.Flow.Circles.EdgeWords(Subject);

        // An effect that goes back into itself is told as that.
        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state) => facts.Flow.Circles.IsAt(Subject);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var (edges, gain, isUnstable) = facts.Flow.Circles.Of(Subject);
            var graph = facts.Flow.Live.Graph;
            var steps = edges.Select(edge => (Bus: FlowWords.PathOf(facts, graph.SourceOf(edge)), Gain: Decibels.OfFactor(graph.GainOf(edge)))).ToList();
            var round = string.Join(", ", steps.Select(step => string.Create(CultureInfo.InvariantCulture, $"{FlowWords.Step(facts, step.Bus)} {step.Gain:0.0} dB")));
            var buses = string.Join(" to ", steps.Append(steps[0]).Select(step => AuditFacts.Place(facts.Profile.FindStrip(step.Bus)!)));
            var few = Sentences.Few([.. steps.Select(step => AuditFacts.Place(facts.Profile.FindStrip(step.Bus)!))], 3);
            var setting = facts.Profile.Settings[Subject];
            var place = AuditFacts.Place(facts.Profile.Strips[setting.Strip]);
            var isPatch = setting.Kind.Suffix == "source";
            var off = isPatch ? $"Fader of {place} down first, then mute it; call the engineer to patch its source back" : $"Faders of these buses down first, then switch off what the plan does not want: {buses}";
            // What comes back adds to what is there: 1 / (1 - g) where both are in step.
            var rise = Decibels.OfFactor(1 / (1 - Decibels.ToFactor(gain)));
            var total = string.Create(CultureInfo.InvariantCulture, $"{gain:0.0} dB");
            if (steps.Sum(step => step.Gain) < gain - 0.05)
                round = $"all ways together; the shortest: {round}";
            return new FindingWords($"Buses feed each other: {buses}",
                $"Once round is {total} ({round}): {(isUnstable ? "it builds up and howls without any microphone" : string.Create(CultureInfo.InvariantCulture, $"it rings, some notes up to {rise:0.0} dB louder, and howls when one of these faders goes up"))}.",
                $"{off}.", $"circle/{setting.Path}", "Circle of buses")
            {
                HeardIn = string.Join('\n', Reached(facts, graph.SourceOf(edges[0]))),
                Short = new($"Buses feed each other: {few}", isUnstable ? "it howls without any microphone" : "it can howl without any microphone",
                    isPatch ? $"Fader of {place} down first, then mute it; call the engineer" : "Their faders down first, then switch off what is not planned"),
            };
        }

        // Whoever hears one bus of a circle hears it ring.
        private static IEnumerable<string> Reached(AuditFacts facts, int node)
        {
            for (var feed = 0; feed < facts.Plan.Feeds.Count; feed++)
            {
                if (facts.Flow.Map.ColumnsOf(feed).Any(column => facts.Flow.Live.Graph.Total(node)[column] != 0))
                    yield return facts.Plan.Feeds[feed].Key;
            }
        }
    }
}
