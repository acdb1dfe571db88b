using System.Globalization;
using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A loop whose coupling the plan tells has little margin left, and less than the plan gives it. The power margin decides; an estimated or
/// stale coupling never makes more than a warning. Advice from a model that knows only the desk.
/// </summary>
internal sealed class FeedbackMarginRule : IAuditRule
{
    private static readonly RuleInfo Info = new("feedback-margin", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "a microphone is close to feedback by a loudspeaker", "{0} microphones close to feedback");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        for (var line = 0; line < facts.Plan.Couplings.Count; line++)
        {
            var inputs = facts.Loops.SettingsOf(line);
            if (inputs.Length > 0)
                yield return new Check(line, inputs, facts);
        }
    }

    private sealed class Check(int line, int[] inputs, AuditFacts facts) : RuleCheck(Info, inputs[0], inputs)
    {
        private readonly PlannedCoupling _coupling = facts.Plan.Couplings[line];

        private int Microphone => facts.Loops.Coupled.MicrophoneOf(line);

        public override string SubjectPath(DeskState state) => LoopWords.Subject(facts, Microphone, _coupling.Loudspeaker);

        // It speaks of a pair; the settings that make it so are explained below.
        public override bool ClaimsSubject => false;

        public override IReadOnlyList<int> Facts { get; } = [facts.Loops.Tight.FactOf(line)];

        public override TimeSpan? OffDelay => LedgerNumbers.ComputedOff;

        public override void AddExplained(DeskState state, List<int> explained)
        {
            if (Best is { } best)
                explained.Add(best.Setting);
        }

        public override Severity Most(DeskState state) =>
            facts.Loops.Tight[line] is { Margin: < TightLoops.Urgent, IsCertain: true } ? Severity.Urgent : Severity.Warning;

        public override int SettingIn(DeskState state) => Best is { } best ? best.Setting : Subject;

        // Where no single setting wins it back the margins themselves are shown.
        public override (string Planned, string Live, Documents.Origin At)? Shown =>
            Best is null && facts.Loops.Tight[line] is { } loop ? (Margin(loop.Planned), Margin(loop.Margin), _coupling.At) : null;

        // Faders ride and microphones are opened; a sweep cannot tell a push from what stays. What is all but ringing by a measured coupling is told
        // as that all the same.
        public override bool MayBeMomentary(DeskState state) => facts.Loops.Tight[line] is { } loop && (loop.Margin >= TightLoops.Urgent || !loop.IsCertain)
            && (!loop.IsAlone || Best is not { } best || facts.Profile.Settings[best.Setting].Kind.Suffix == "fader");

        public override bool IsViolated(DeskState state) => facts.Loops.Tight[line] is not null;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var loop = facts.Loops.Tight[line]!.Value;
            var (who, where) = (facts.Words(_coupling.Microphone.Strip), LoopWords.Of(facts, _coupling.Loudspeaker));
            var how = loop.IsAlone ? "as it will be when opened" : "with all that is open now";
            var best = Best;
            var back = best is { } found ? $"{LoopWords.Back(facts, found.Setting, found.To)}: it wins back about {found.By:0} dB" : "bring its fader down";
            return new FindingWords($"{who} is close to feedback by {where}: {Margin(loop.Margin)} left {how}, {Margin(loop.Planned)} as planned",
                $"It squeals when somebody steps nearer or cups a hand around the microphone. {facts.Loops.References.WordsOf(line)} The desk knows nothing of people, microphones and amplifiers: ears decide.",
                best is null ? "Fader down; call the engineer." : $"Fader down first, then {back}.", LoopWords.CauseOf(facts, _coupling.Loudspeaker), where)
            {
                Short = new($"{who} is close to feedback by {where}", "it squeals soon", "Fader down; call the engineer", "Faders down; call the engineer"),
            };
        }

        private Remedy? Best =>
            facts.Loops.Tight[line] is not { } loop ? null : loop.IsAlone ? facts.Loops.Trials.BestAlone(Microphone) : facts.Loops.Trials.BestTogether();

        private string Margin(double margin) => double.IsPositiveInfinity(margin) ? "no loop" : string.Create(CultureInfo.InvariantCulture, $"{Math.Round(margin) + 0.0:0} dB ±{(facts.Loops.Tight[line] is { IsCertain: true } ? LoopReferences.Measured : LoopReferences.Estimated):0}");
    }
}
