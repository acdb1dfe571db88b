using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Compares what is wanted to be told with what each sink knows, and hands over the difference.</summary>
internal sealed class Telling(LedgerBook book, BulkChange bulk)
{
    private readonly List<DigestLine>[] _digests = [.. book.Sinks.Select(static _ => new List<DigestLine>())];

    /// <summary>Tells what came about in the moment that is over.</summary>
    public void Reconcile()
    {
        var touched = book.Touched;
        touched.Sort(LedgerBook.ByOrdinalKey);
        foreach (var finding in touched)
        {
            // What is known to come and go waits for no gather, or its reminders might fall into one each time.
            if ((finding.Holds & (Holds.Settling | Holds.Inhibited)) == Holds.None && (!finding.IsGathering || finding.Level.Kind == LevelKind.Unstable))
                Tell(finding);
            finding.IsTouched = finding.IsReminderDue = finding.GoesIntoDigest = false;
        }

        touched.Clear();
        for (var sink = 0; sink < _digests.Length; sink++)
        {
            if (_digests[sink].Count == 0 && !IsDigestDue(book.Sinks[sink]))
                continue;
            AddPassed(sink);
            WriteDigest(sink);
        }
    }

    /// <summary>Whether some sink is to be told of what came and went.</summary>
    public bool IsAnyDigestDue()
    {
        foreach (var sink in book.Sinks)
        {
            if (IsDigestDue(sink))
                return true;
        }

        return false;
    }

    private bool IsDigestDue(SinkState sink) => sink.IsUp && sink.DigestDue <= book.Now.Clock;

    // Whatever came and went by itself is told together, so that a recall that was put right makes one message and not dozens.
    private void AddPassed(int sink)
    {
        book.Sinks[sink].DigestDue = null;
        foreach (var finding in book.ByKey.Values)
        {
            ref var standing = ref finding.Sinks[sink];
            if (standing.Passed == 0 || finding.Holds != Holds.None)
                continue;
            var last = new Level(LevelKind.None, standing.PassedSeverity, standing.PassedEpisode, 0);
            _digests[sink].Add(new DigestLine(finding.Key, last, standing.Passed, standing.PassedSeverity));
            standing.Passed = 0;
            book.MarkChanged(finding);
        }
    }

    private void Tell(TrackedFinding finding)
    {
        Advance(finding);
        for (var sink = 0; sink < book.Sinks.Count; sink++)
        {
            if (book.Sinks[sink].IsUp)
                Offer(finding, sink);
        }
    }

    // What there is to tell, whoever listens: only this numbers the changes.
    private static void Advance(TrackedFinding finding)
    {
        var before = finding.Level;
        var wanted = Wanted(finding);
        if (wanted.Says(before))
        {
            if (finding.IsReminderDue && wanted is { Kind: LevelKind.Unstable, Severity: Severity.Urgent } && finding.Attention == Attention.Unacked)
                finding.Level = before with { Transition = before.Transition + 1 };
            return;
        }

        // An episode that was never cleared for all leaves a number free for its clearing.
        var begins = wanted.Episode != before.Episode;
        finding.Level = wanted with { Transition = before.Transition + (begins && before.IsOpen ? 2 : 1) };
        if (begins)
            finding.FirstTransition = finding.Level.Transition;
    }

    private static Level Wanted(TrackedFinding finding)
    {
        var kind = WantedKind(finding);
        var before = finding.Level;
        // What is on plan and about to be cleared is not news, even when a hold ends just then.
        if (finding.Condition == Condition.Clearing && !before.IsNews && kind != LevelKind.Held)
            return before;
        if (kind != LevelKind.Unstable || before.Kind != LevelKind.Unstable)
            return new Level(kind, finding.Severity, finding.Episode, 0);
        // It is told how grave it gets, not each time that it gets less so.
        return new Level(kind, finding.Severity > before.Severity ? finding.Severity : before.Severity, before.Episode, 0);
    }

    private static LevelKind WantedKind(TrackedFinding finding)
    {
        var isOn = finding.Condition is Condition.Active or Condition.Clearing;
        if ((finding.Holds & (Holds.Shelved | Holds.Expected | Holds.OutOfService)) != Holds.None)
            return isOn || finding.IsLatched ? LevelKind.Held : LevelKind.None;
        if ((finding.Holds & Holds.Damped) != Holds.None)
            return LevelKind.Unstable;
        if (isOn)
            return finding.Attention == Attention.Acked ? LevelKind.Acknowledged : LevelKind.Raised;
        return finding.IsLatched ? LevelKind.Lapsed : LevelKind.None;
    }

    private void Offer(TrackedFinding finding, int sink)
    {
        ref var standing = ref finding.Sinks[sink];
        var level = finding.Level;
        if (level.IsOpen && level.Severity < book.Sinks[sink].Least)
            level = level with { Kind = LevelKind.None };
        if (standing.Offered.IsOpen && standing.Offered.Episode != level.Episode)
            Send(finding, sink, new Level(LevelKind.None, standing.Offered.Severity, standing.Offered.Episode, finding.FirstTransition - 1));
        var isNew = !level.Says(standing.Offered) || (level.Kind == LevelKind.Unstable && level.Transition != standing.Offered.Transition);
        if (isNew && (level.IsNews || standing.Offered.IsOpen))
            Send(finding, sink, level);
        if (standing.Passed > 0 && finding.Holds == Holds.None)
            book.Sinks[sink].DigestDue ??= book.Now.Clock + LedgerNumbers.DigestWithin;
    }

    private void Send(TrackedFinding finding, int sink, Level level)
    {
        finding.Sinks[sink].Offered = level;
        book.MarkChanged(finding);
        if (finding.GoesIntoDigest)
        {
            _digests[sink].Add(new DigestLine(finding.Key, level, 0, finding.Severity));
            return;
        }

        var (by, why) = Words.Reason(finding, level);
        book.Announcements.Add(new Announcement(book.Sinks[sink].Name, finding.Key, level, finding.Condition, book.Now)
        {
            By = by,
            Why = why,
            Members = finding == bulk.Root && level.IsNews ? bulk.MemberKeys() : [],
        });
    }

    private void WriteDigest(int sink)
    {
        var lines = _digests[sink];
        if (lines.Count == 0)
            return;
        // Protected checks first; the sort keeps the order of lines of one key.
        var ordered = lines.OrderBy(line => !book.ByKey[line.Key].Check.IsProtected).ThenBy(static line => line.Key, StringComparer.Ordinal).ToArray();
        lines.Clear();
        var level = new Level(LevelKind.None, ordered.Max(static line => line.Severity), 0, ++book.Digests);
        book.Announcements.Add(new Announcement(book.Sinks[sink].Name, $"{book.Desk}/digest", level, Condition.Normal, book.Now) { Digest = ordered });
    }
}
