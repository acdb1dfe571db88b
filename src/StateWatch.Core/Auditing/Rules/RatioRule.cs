using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Some sources are louder or softer over others at a feed than the plan wants, beyond what they are in the room. Own mutes and faders of the
/// sources are not looked at: they move both places. Ways of one source add by voltage, sources by power (Ballou, Handbook for Sound
/// Engineers: coherent and incoherent sums). In soundcheck levels are still being found; in the show a ratio that only faders moved is printed and
/// not told.
/// </summary>
internal sealed class RatioRule : IAuditRule
{
    private static readonly RuleInfo Info = new("ratio-off", FindingKind.Risk, SeverityByPhase.Of("-NWW"),
        "some sources are held over others at a feed by more or less than planned", "{0} ratios off");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var ratio in facts.Flow.Ratios.All)
        {
            // Where the plan itself lets nothing arrive, as at a cue, there is nothing to compare. A mute of the feed is no drift while there is a ratio.
            if (double.IsFinite(ratio.Planned) && ratio.Settings.Count > 0)
                yield return new Check(ratio, facts.Flow.AnyFact, facts.Profile.Find($"{ratio.Ratio.Buses[0]}/on") is >= 0 and var on ? on : ratio.Settings.Max());
        }
    }

    private sealed class Check(FlowRatio ratio, int fact, int subject) : RuleCheck(Info, subject, [.. ratio.Settings.Append(subject).Distinct()])
    {
        private readonly int[] _settings = [.. ratio.Settings];

        public override (string Planned, string Live, Origin At)? Shown =>
            ($"{RatioReading.Text(ratio.Ratio.Line.Be)} within {RatioReading.Text(ratio.Ratio.Line.Within)}", RatioReading.Text(ratio.Live), ratio.Ratio.Line.Place);

        public override IReadOnlyList<int> Facts { get; } = [fact];

        public override TimeSpan? OnDelay => LedgerNumbers.ComputedOn;

        public override TimeSpan? OffDelay => LedgerNumbers.ComputedOff;

        public override string SubjectPath(DeskState state) => ratio.Ratio.Subject;

        // In the show faders are the hands'; what of the way is no fader, and planned otherwise, still counts.
        public override bool IsViolated(DeskState state) => ratio.IsOff(ratio.Live) && (ratio.Plan.Phase != Phase.Show || IsMoreThanFaders(state));

        private bool IsMoreThanFaders(DeskState state)
        {
            foreach (var setting in _settings)
            {
                var kind = ratio.Plan.Profile.Settings[setting].Kind;
                if (IsOff(ratio.Plan, setting, state) && kind.Suffix != "fader" && kind.Class is SettingClass.Routing or SettingClass.Taps or SettingClass.Grouping or SettingClass.Levels)
                    return true;
            }

            return false;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var line = ratio.Ratio.Line;
            var (of, over, at, against) = (line.Of.Text, line.Over.Text, line.At.Text, ratio.Ratio.Against.Key);
            var live = ratio.Live;
            var first = ratio.Settings.Where(setting => IsOff(ratio.Plan, setting, state)).Select(setting => facts.Profile.Settings[setting]).FirstOrDefault();
            var look = first is null ? $"compare the faders of the groups and of {against} with the plan"
                : $"set {facts.Words(facts.Profile.Strips[first.Strip])}, {first.Kind.Words}{(first.Path.Contains("/send/", StringComparison.Ordinal) ? $" to {facts.BusWords(BusOf(first.Path))}" : "")}, back to {facts.Profile.Format(facts.Plan.For(first.Id)!.Planned)}";
            var what = $"{of} is {RatioReading.Text(live)} over {over} at {at}, planned {RatioReading.Text(line.Be)}";
            return new FindingWords($"{what} within {RatioReading.Text(line.Within)} (against {against})",
                live < line.Be ? $"Who listens there hears too little of {of} over {over}." : $"Who listens there hears too little of {over} beside {of}.",
                $"{Sentences.Capital(at)} fader down first, then {look}.", ratio.Ratio.At.Key, $"Feed {ratio.Ratio.At.Key}")
            {
                Short = new(what, "the balance there is off", $"{Sentences.Capital(at)} fader down first, then look at the sends to it"),
            };
        }

        private static bool IsOff(ShowPlan plan, int setting, DeskState state) => plan.For(setting) is { } planned && !planned.Allows(state[setting]);

        private static string BusOf(string path)
        {
            var parts = path[(path.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..].Split('/');
            return $"{parts[0]}/{parts[1]}";
        }
    }
}
