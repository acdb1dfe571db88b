using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Findings;

/// <summary>
/// Hands what a live audit says to a ledger: after each judgement only the checks that say something else than before, including those that merely
/// cannot tell any more, which the audit itself does not report.
/// </summary>
/// <param name="audit">The audit.</param>
/// <param name="ledger">The ledger, whose checks are <see cref="ChecksOf"/> the same audit.</param>
public sealed class AuditReadings(LiveAudit audit, FindingLedger ledger)
{
    private readonly Verdict[] _verdicts = new Verdict[audit.Count];
    private readonly Severity[] _severities = new Severity[audit.Count];

    /// <summary>The checks of an audit, by their numbers there.</summary>
    /// <param name="audit">The audit.</param>
    /// <param name="state">A state of the desk; what a subject is called may depend on it.</param>
    public static IReadOnlyList<WatchedCheck> ChecksOf(LiveAudit audit, DeskState state)
    {
        var checks = new WatchedCheck[audit.Count];
        for (var check = 0; check < checks.Length; check++)
        {
            var setting = audit.Plan.Profile.Settings[audit.SubjectOf(check)];
            var rule = audit.RuleOf(check);
            var timers = TimerClasses.Of(setting.Kind.Class, setting.Codec.Kind);
            var isProtected = rule is { Kind: FindingKind.Risk, Severity.Show: Severity.Urgent };
            checks[check] = new WatchedCheck($"{rule.Id}:{audit.SubjectPathOf(check, state)}", timers, IsProtected: isProtected);
        }

        return checks;
    }

    /// <summary>
    /// Hands in what changed in the last judgement, and the live value of every drift of which an expected change speaks: call it also when such a change
    /// was announced.
    /// </summary>
    /// <param name="now">The moment.</param>
    /// <param name="isEverything">Whether to hand in what every check says: before a full read is said to be done, after a reload or a change of phase.</param>
    public void HandIn(Moment now, bool isEverything = false)
    {
        for (var check = 0; check < _verdicts.Length; check++)
        {
            var (verdict, severity) = (audit.VerdictOf(check), audit.SeverityOf(check));
            var live = severity > Severity.Silent && ledger.Expects(check) ? audit.Write(check).Live : null;
            if (!isEverything && live is null && verdict == _verdicts[check] && severity == _severities[check])
                continue;
            (_verdicts[check], _severities[check]) = (verdict, severity);
            ledger.Observe(check, Reading.Of(verdict, severity) with { Live = live }, now);
        }
    }
}
