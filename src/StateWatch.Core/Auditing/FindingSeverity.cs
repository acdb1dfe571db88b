using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>How much a violation matters in the judged phase.</summary>
internal static class FindingSeverity
{
    /// <summary>The severity of a check that is violated. Allocates nothing.</summary>
    /// <param name="facts">What rules look up.</param>
    /// <param name="check">The check.</param>
    /// <param name="state">The state.</param>
    /// <param name="isLasting">Whether it is known to last, so that it is no moment's doing.</param>
    public static Severity Of(AuditFacts facts, RuleCheck check, DeskState state, bool isLasting = false)
    {
        var phase = facts.Plan.Phase;
        var setting = facts.Profile.Settings[check.Subject];
        var settingClass = setting.Kind.Class;
        var severity = check is DriftCheck ? DriftSeverities.Of(settingClass).In(phase) : check.Rule.Severity.In(phase);
        if (!isLasting && phase == Phase.Show && severity > Severity.Notice && check.MayBeMomentary(state))
            severity = Severity.Notice;
        if (severity > Severity.Silent && check.Most(state) is var most && severity > most)
            severity = most;
        if (check.Rule.Kind == FindingKind.Risk)
            return severity;
        return facts.Plan.LockOf(check.Subject) switch
        {
            PhaseLock.Free => Severity.Silent,
            // A guard is an envelope around a number; phantom power and pads have none.
            PhaseLock.Guarded when setting.Codec.Kind is ValueKind.Level or ValueKind.Number => severity == Severity.Silent ? Severity.Silent : Severity.Notice,
            _ => severity,
        };
    }
}
