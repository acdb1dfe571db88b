using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Looks at a compiled cue for what is allowed but probably not meant.</summary>
/// <param name="plan">The plan at the cue.</param>
/// <param name="line">The cue as written.</param>
/// <param name="needless">Names under open and closed that change nothing.</param>
/// <param name="table">What all lines say.</param>
/// <param name="diagnostics">Gets what is found.</param>
internal sealed class CueAudit(ShowPlan plan, CueLine line, IReadOnlyList<ScalarNode> needless, StatementTable table, DiagnosticBag diagnostics)
{
    public void Run()
    {
        AuditAlternatives(plan.Cue!);
        // Repeating what is planned anyway matters where the phase does not lock it, and always for mutes, which the show leaves free.
        bool Matters(int setting) => plan.Profile.Settings[setting].Kind.Class is var kind && (kind == SettingClass.Mutes || plan.LockOf(kind) != PhaseLock.Locked || plan.HandsOn(setting) is not null);
        var redundant = table.FindRedundant(Ranks.Cue, Matters).ToList();
        if (IsIdle(redundant.Count))
        {
            diagnostics.Add(PlanCodes.IdleCue, line.Key.At, $"cue '{line.Key.Text}' changes nothing", "say what it opens, closes or sets, or remove it");
            return;
        }

        foreach (var name in needless)
            diagnostics.Add(PlanCodes.Redundant, name.At, $"'{name.Text}' changes nothing: it is already so by the other names of this cue", "leave it out");
        foreach (var (at, example) in redundant)
            diagnostics.Add(PlanCodes.Redundant, at, $"this changes nothing: {plan.Profile.Settings[example.Setting].Path} already follows from other lines", "remove it");
    }

    private void AuditAlternatives(PlannedCue cue)
    {
        foreach (var closing in cue.Closed)
        {
            if (closing.Strip.OneOf is { } set && cue.Open.FirstOrDefault(item => item.Strips.Any(strip => strip.OneOf == set)) is { } opening)
            {
                diagnostics.Add(PlanCodes.OneOfBothWays, closing.Said.At,
                    $"{closing.Strip.Name} is closed here, but '{opening.Said.Text}' at {opening.Said.At.Place} opens the inputs {set}, any one of which will do", "name the whole of them once; one that must stay closed is no spare");
            }
        }
    }

    // A name always changes something, or is told where its role is defined.
    private bool IsIdle(int redundant) => line.Open.Count + line.Closed.Count == 0 && line.Effects is null && line.ByEyeSettings.Count == 0 && table.CountFrom(Ranks.Cue) == redundant;
}
