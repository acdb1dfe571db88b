using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Findings;

/// <summary>
/// Hands what a live audit says to a ledger: after each judgement only the checks that say something else than before, including those that merely
/// cannot tell any more, or that moved nearer or farther, which the audit itself does not report.
/// </summary>
/// <param name="audit">The audit.</param>
/// <param name="ledger">The ledger, whose checks are <see cref="ChecksOf"/> the same audit.</param>
public sealed class AuditReadings(LiveAudit audit, FindingLedger ledger)
{
    private readonly List<int> _expected = [];
    private long _judged;

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
            checks[check] = new WatchedCheck($"{rule.Id}:{audit.SubjectPathOf(check, state)}", timers, IsProtected: isProtected, OwnOnDelay: audit.OnDelayOf(check), OwnOffDelay: audit.OffDelayOf(check));
        }

        return checks;
    }

    /// <summary>
    /// Hands in what changed in the last judgement, and the live value of every drift of which an expected change speaks: call it also when such a change
    /// was announced. Where there were several judgements, or none before, it hands in everything.
    /// </summary>
    /// <param name="now">The moment.</param>
    /// <param name="isEverything">Whether to hand in what every check says: before a full read is said to be done, after a reload or a change of phase.</param>
    public void HandIn(Moment now, bool isEverything = false)
    {
        _expected.Clear();
        ledger.AddExpected(_expected);
        var missed = audit.Judgements - _judged;
        _judged = audit.Judgements;
        if (isEverything || missed > 1)
        {
            for (var check = 0; check < audit.Count; check++)
                HandIn(check, now);
            return;
        }

        if (missed == 1)
        {
            foreach (var check in audit.Moved)
                HandIn(check, now);
        }

        foreach (var check in _expected)
            HandIn(check, now);
    }

    private void HandIn(int check, Moment now)
    {
        var (severity, lasting) = (audit.SeverityOf(check), audit.LastingSeverityOf(check));
        // A reading without the live value in between would end and begin the hold of an expected change.
        var live = severity > Severity.Silent && _expected.Contains(check) ? audit.Write(check).Live : null;
        ledger.Observe(check, Reading.Of(audit.VerdictOf(check), severity, audit.DistanceOf(check)) with { Live = live, Lasting = lasting > severity ? lasting : Severity.Silent }, now);
    }
}
