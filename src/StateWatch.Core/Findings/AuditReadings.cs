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
    private readonly List<(int Check, TimeSpan Since)> _momentary = [];
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

    /// <summary>Hands in what people may do for a moment and has lasted too long for that.</summary>
    public void Elapse(Moment now)
    {
        for (var i = _momentary.Count - 1; i >= 0; i--)
        {
            if (now.Clock - _momentary[i].Since >= LedgerNumbers.MomentaryFor)
                HandIn(_momentary[i].Check, now);
        }
    }

    // In a show some things are done for a moment: they weigh little until they have lasted.
    private Severity Weigh(int check, Moment now)
    {
        var severity = audit.SeverityOf(check);
        var lasting = severity == Severity.Notice ? audit.LastingSeverityOf(check) : severity;
        var known = -1;
        for (var i = 0; i < _momentary.Count; i++)
            known = _momentary[i].Check == check ? i : known;
        if (lasting <= severity)
        {
            if (known >= 0)
                _momentary.RemoveAt(known);
            return severity;
        }

        if (known < 0)
            _momentary.Add((check, now.Clock));
        return known >= 0 && now.Clock - _momentary[known].Since >= LedgerNumbers.MomentaryFor ? lasting : severity;
    }

    private void HandIn(int check, Moment now)
    {
        var severity = Weigh(check, now);
        // A reading without the live value in between would end and begin the hold of an expected change.
        var live = severity > Severity.Silent && _expected.Contains(check) ? audit.Write(check).Live : null;
        ledger.Observe(check, Reading.Of(audit.VerdictOf(check), severity, audit.DistanceOf(check)) with { Live = live }, now);
    }
}
