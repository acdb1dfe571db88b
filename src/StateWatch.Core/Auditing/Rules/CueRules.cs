using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// What a cue opens and closes, whatever way: mutes, faders, mute groups and DCAs together, as far as the profile maps them. Common
/// practice, no source.
/// </summary>
internal sealed class CueRules : IAuditRule
{
    private static readonly RuleInfo NotOpen = new("cue-not-open", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "something that a cue opens is closed", "{0} sources are closed that should be open");

    private static readonly RuleInfo NotClosed = new("cue-not-closed", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "something that a cue closes is open", "{0} sources are open that should be closed");

    public IReadOnlyList<RuleInfo> Rules { get; } = [NotOpen, NotClosed];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        if (facts.Plan.Cue is not { } cue)
            yield break;
        foreach (var opening in cue.Open)
        {
            StripGates[] gates = [.. opening.Strips.Select(strip => StripGates.Of(facts.Profile, strip.Strip))];
            if (gates[0].Subject >= 0)
                yield return new OpenCheck(cue, opening, gates);
        }

        foreach (var closing in cue.Closed)
        {
            var gates = StripGates.Of(facts.Profile, closing.Strip.Strip);
            if (gates.Subject >= 0)
                yield return new ClosedCheck(facts.Plan, cue, closing, gates);
        }
    }

    private sealed class OpenCheck(PlannedCue cue, CueOpening opening, StripGates[] gates)
        : RuleCheck(NotOpen, gates[0].Subject, [.. gates.SelectMany(one => one.Settings()).Distinct()])
    {
        public override (string Planned, string Live, Origin At)? Shown => ("open", "closed", opening.Said.At);

        public override void AddExplained(DeskState state, List<int> explained)
        {
            foreach (var one in gates)
            {
                for (var place = 0; place < one.Count; place++)
                {
                    if (one.ClosedAt(place, new Live(state)) is not { } gate)
                        continue;
                    explained.Add(gate.Setting);
                    if (gate.Member >= 0)
                        explained.Add(gate.Member);
                }
            }
        }

        public override bool IsViolated(DeskState state)
        {
            foreach (var one in gates)
            {
                if (one.IsOpen(state))
                    return false;
            }

            return true;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var closed = opening.Strips.Select((strip, index) => new ClosedWords(facts, strip.Strip, gates[index], state)).ToList();
            return closed is [var only] ? only.OfOne(cue.Name) : ClosedWords.OfSeveral(closed, opening, cue.Name);
        }
    }

    private sealed class ClosedCheck(ShowPlan plan, PlannedCue cue, CueClosing closing, StripGates gates) : RuleCheck(NotClosed, gates.Subject, [.. gates.Settings()])
    {
        public override (string Planned, string Live, Origin At)? Shown => ("closed", "open", closing.Said.At);

        public override void AddExplained(DeskState state, List<int> explained)
        {
            for (var place = 0; place < gates.Count; place++)
            {
                if (gates.ClosedAt(place, new Planned(plan)) is { Member: < 0 } gate)
                    explained.Add(gate.Setting);
            }

            if (Missed(state) is { } missed)
                explained.Add(missed.Setting);
        }

        public override bool IsViolated(DeskState state) => gates.IsOpen(state);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = closing.Strip.Strip;
            var (who, place) = (facts.Words(strip), AuditFacts.Place(strip));
            var what = $"{who} is open at cue {cue.Name}; it should be closed";
            var why = closing.Strip.OpenMic ? "It is heard when it should be silent, and an open microphone can squeal." : "It is heard when it should be silent.";
            var brief = new ShortWords($"{who} is open at cue {cue.Name}", "it is heard when it should be silent", "Mute it", "Mute them");
            if (Missed(state) is not { } missed)
            {
                var name = closing.Said.Text == closing.Strip.Name ? who : $"{closing.Said.Text} at cue {cue.Name}";
                return new FindingWords(what, why, $"Mute it: {place}.", $"{cue.Name}/{closing.Said.Text}", name) { Short = brief };
            }

            var control = facts.Profile.Strips[facts.Profile.Settings[missed.Control].Strip];
            var group = facts.Words(control);
            return missed.FellOut
                ? new FindingWords(what, $"{why} {Sentences.Capital(group)} does not reach it: it fell out.", $"Mute it: {place}; then add it to {group}.", control.Path, group) { Short = brief }
                : new FindingWords(what, $"{why} {Sentences.Capital(group)} should silence it, but does not.", $"Mute it: {place}, or all of them with {group}.", control.Path, group) { Short = brief };
        }

        // The shared control that would have closed it: one that the plan wants closed and that is not, or one that is closed but lost this member.
        private (int Setting, int Control, bool FellOut)? Missed(DeskState state)
        {
            for (var place = 0; place < gates.Count; place++)
            {
                if (gates.ClosedAt(place, new Planned(plan)) is ({ } control, >= 0 and var member))
                    return plan.For(control)!.Allows(state[control]) ? (member, control, true) : (control, control, false);
            }

            // Nobody plans the mutes of groups in the show: whatever is active now counts.
            for (var place = 0; place < gates.Count; place++)
            {
                if (gates.ClosedAt(place, new WithMembers(plan, state)) is ({ } control, >= 0 and var member) && !state[member].IsOn)
                    return (member, control, true);
            }

            return null;
        }
    }

    private readonly struct Live(DeskState state) : IGateValues
    {
        public SettingValue Of(int setting) => state[setting];
    }

    private readonly struct Planned(ShowPlan plan) : IGateValues
    {
        public SettingValue Of(int setting) => plan.For(setting)?.Planned ?? default;
    }

    private readonly struct WithMembers(ShowPlan plan, DeskState state) : IGateValues
    {
        public SettingValue Of(int setting) =>
            plan.Profile.Settings[setting].Kind.Suffix is "mute-group/#" or "dca/#" && plan.For(setting) is { Planned.IsOn: true } member ? member.Planned : state[setting];
    }
}
