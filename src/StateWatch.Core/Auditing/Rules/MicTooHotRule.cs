using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A microphone is much louder at a loudspeaker than planned, by whatever way and setting; told at the setting that makes most of it. 6 dB is
/// the feedback stability margin of the handbooks (Davis; Ballou, Handbook for Sound Engineers): who goes 6 dB over has used it up. Nothing
/// is said of the margin that is left, which needs a coupling.
/// </summary>
internal sealed class MicTooHotRule : IAuditRule
{
    private static readonly RuleInfo Info = new("mic-too-hot", FindingKind.Risk, SeverityByPhase.Of("--WW"),
        "a microphone is far louder at a loudspeaker than planned", "{0} settings make microphones far louder than planned");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var id in facts.Loops.IsApplicable ? facts.Loops.Settings : [])
        {
            if (IsLookedAt(facts.Profile.Settings[id].Kind) && facts.Plan.For(id) is { } expectation && facts.Plan.LockOf(id) != PhaseLock.Free)
                yield return new Check(expectation, facts);
        }
    }

    // Faders of channels, groups, DCAs and the room ride through every show: guards say how far. Gains are told by themselves.
    private static bool IsLookedAt(SettingKind kind) => kind.Suffix switch
    {
        "fader" => kind.StripKind is "mix" or "matrix",
        "gain" => false,
        _ => kind.Class is SettingClass.Levels or SettingClass.Preamp or SettingClass.Taps or SettingClass.Grouping,
    };

    private sealed class Check(Expectation expectation, AuditFacts facts) : RuleCheck(Info, expectation.Setting, [expectation.Setting])
    {
        public override IReadOnlyList<int> Facts { get; } = [facts.Loops.Hot.FactOf(expectation.Setting)];

        // It is planned, so coverage tells when it was not seen.
        public override bool PassesOverUnseen => true;

        // Whatever another rule said of the setting is the same fault.
        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state) => facts.Loops.Hot.IsHot(Subject);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var pairs = facts.Loops.Hot.HotBy(Subject);
            var most = pairs.MaxBy(pair => pair.Rise);
            var setting = facts.Profile.Settings[Subject];
            var strip = facts.Profile.Strips[setting.Strip];
            var names = pairs.Select(pair => pair.Microphone).Distinct().Select(number => facts.Words(facts.Plan.Microphones[number].Strip)).ToList();
            var places = pairs.Select(pair => pair.Loudspeaker).Distinct().Select(number => LoopWords.Of(facts, number)).ToList();
            var (live, planned) = (facts.Profile.Format(state[Subject]), facts.Profile.Format(expectation.Planned));
            var (who, where, be) = (Sentences.Few(names, 2), Sentences.Few(places, 2), names.Count == 1 ? "is" : "are");
            var place = $"{AuditFacts.Place(strip)}, {SettingWords.Of(facts, setting)}";
            // What lowers this may make something else louder, unless it is a level.
            var isLevel = setting.Kind.Class == SettingClass.Levels && expectation.Planned.Kind == ValueKind.Level;
            return new FindingWords($"{who} {be} {most.Rise:0} dB louder in {where} than planned: {place} is {live}, planned {planned}",
                $"{(names.Count == 1 ? "It squeals" : "They squeal")} that much sooner, and first when somebody steps nearer.",
                isLevel ? $"Bring it down to {planned}: {place}." : $"Fader down first, then set it back to {planned}: {place}.",
                names.Count == 1 && places.Count == 1 ? LoopWords.CauseOf(facts, most.Loudspeaker) : setting.Path, names.Count == 1 && places.Count == 1 ? places[0] : facts.Words(strip))
            {
                Short = new($"{Sentences.Few(names, 1)} {be} {most.Rise:0} dB over plan in {Sentences.Few(places, 1)}{(strip.Kind == "input" ? "" : $" by {facts.Words(strip)}")}", "it squeals sooner",
                    isLevel ? $"Bring it down to {planned}" : setting.Kind.Class == SettingClass.Preamp ? "Fader down; call the engineer" : "Fader down first, then set it back",
                    isLevel ? "Bring it down as planned, each of them" : "Faders down; call the engineer"),
            };
        }
    }
}
