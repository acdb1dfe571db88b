using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Watching;

/// <content>How it stands, for others to read.</content>
public sealed partial class DeskWatch
{
    private DeskStatus WriteStatus(Moment now)
    {
        var clock = _link.Clock;
        var counters = _link.Counters;
        Tape?.Counted(counters);
        var standing = _ledger.Standing()
            .OrderByDescending(static record => record.Condition is Condition.Active or Condition.Clearing)
            .ThenByDescending(static record => record.Severity)
            .ThenBy(static record => record.Key, StringComparer.Ordinal)
            .Select(record => new StoredFinding(record, WordsNow(record.Key)));
        return new DeskStatus(Desk, now, _standing.Show, _standing.Phase, _standing.Cue, _standing.Since)
        {
            Address = _link.Desk,
            Following = _follower.Phase,
            Session = _follower.Session,
            SilentFor = clock.GetElapsedTime(_follower.LastHeard, clock.GetTimestamp()),
            ReadAgo = _ledger.ReadAt is { } read ? now.Clock - read : null,
            Coverage = Sample(now),
            Standing = [.. standing],
            Next = _schedule?.NextPhase(now.Wall) is { Phase: { } phase } next ? (next.At, phase) : null,
            Cues = _plan.Cues,
            Link = counters,
            Follow = _follower.Counters,
            Undecodable = _follower.Decoded.Malformed + _follower.Decoded.NotUnderstood,
        };
    }

    private AlertWords? WordsNow(string key) => _words.Last(key)
        ?? (_checkOf.TryGetValue(key, out var check) && _ledger.IsViewFresh && _followed.Audit.SeverityOf(check) > Severity.Silent ? Written(key, check) : Fallback(key));

    private CoverageSample Sample(Moment now)
    {
        var audit = _followed.Audit;
        var undecided = 0;
        for (var check = 0; check < audit.Count; check++)
            undecided += audit.VerdictOf(check) == Verdict.CannotTell ? 1 : 0;
        var planned = audit.Plan.Expectations.Count;
        return new CoverageSample(now.Wall, planned, planned - Unread(), undecided);
    }

    private int Unread()
    {
        var unread = 0;
        foreach (var expectation in _followed.Audit.Plan.Expectations)
            unread += _follower.State.IsFresh(expectation.Setting) ? 0 : 1;
        return unread;
    }
}
