using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>
/// Whether what checks say counts: from a full read of the present session on, or from 30 s after its beginning. Until then everything stays as it was.
/// A session is a number that rises with every connection and every full read that a gap makes necessary; what comes late from an older one is ignored.
/// </summary>
internal sealed class DeskView(LedgerBook book, Conditions conditions)
{
    /// <summary>The desk does not answer: one finding for all that cannot be seen.</summary>
    public TrackedFinding Unreachable { get; } = book.Add($"{book.Desk}/source-unreachable:desk",
        new WatchedCheck("source-unreachable:desk", TimerClass.Switch, IsProtected: true), FindingOrigin.Watch);

    /// <summary>The desk was not seen whole in time.</summary>
    public TrackedFinding Incomplete { get; } = book.Add($"{book.Desk}/incomplete-view:desk",
        new WatchedCheck("incomplete-view:desk", TimerClass.Immediate, IsProtected: true), FindingOrigin.Watch);

    public long Session { get; set; }

    public bool IsLinked { get; set; }

    public bool IsSettling { get; set; }

    /// <summary>Whether readings count.</summary>
    public bool Counts { get; set; }

    /// <summary>When waiting for a full read ends.</summary>
    public TimeSpan? Deadline { get; set; }

    public TimeSpan? ReadAt { get; set; }

    public void Start()
    {
        (Session, IsLinked, IsSettling) = (0, false, true);
        foreach (var finding in book.Checks)
            book.Hold(finding, Holds.Settling, true);
        conditions.Freeze(Unreachable, Evidence.Stale, StaleReason.Restart);
        conditions.Freeze(Incomplete, Evidence.Stale, StaleReason.Restart);
        Lose(StaleReason.Restart);
        Deadline = book.Now.Clock + LedgerNumbers.ViewWithin;
    }

    public bool Link(long session)
    {
        if (session <= Session)
            return false;
        (Session, IsLinked) = (session, true);
        conditions.Read(Unreachable, Reading.Match);
        Lose(StaleReason.NewSession);
        if (!IsSettling)
            Deadline = book.Now.Clock + LedgerNumbers.ViewWithin;
        return true;
    }

    public bool Break(long session)
    {
        if (session < Session || (session == Session && !IsLinked && session != 0))
            return false;
        (Session, IsLinked) = (session, false);
        conditions.Read(Unreachable, Reading.Drift(Severity.Urgent));
        Lose(StaleReason.LinkLost);
        if (!IsSettling)
            Deadline = null;
        return true;
    }

    public bool Miss(long session)
    {
        if (session <= Session || !IsLinked)
            return false;
        Session = session;
        Lose(StaleReason.Gap);
        // One that is read anew more often than a read takes is waited for once: else nobody would watch it. Then what is seen is gone by.
        if (!IsSettling)
            Deadline ??= Incomplete.Condition == Condition.Active ? book.Now.Clock : book.Now.Clock + LedgerNumbers.ViewWithin;
        Elapse();
        return true;
    }

    public bool Take(long session)
    {
        if (session != Session || !IsLinked)
            return false;
        ReadAt = book.Now.Clock;
        Deadline = null;
        conditions.Read(Incomplete, Reading.Match);
        if (!Counts)
            Open();
        return true;
    }

    /// <summary>Ends the waiting when it is time.</summary>
    public void Elapse()
    {
        if (!(Deadline <= book.Now.Clock))
            return;
        Deadline = null;
        if (!IsLinked)
        {
            // That it does not answer is told already.
            Settle();
            return;
        }

        conditions.Read(Incomplete, Reading.Drift(Severity.Warning));
        Open();
    }

    private void Lose(StaleReason reason)
    {
        Counts = false;
        foreach (var finding in book.Checks)
        {
            finding.Reading = Reading.Unknown;
            conditions.Freeze(finding, Evidence.Stale, reason);
        }

        book.Events.Add(new LedgerEvent(book.Now, book.Desk, 0, LedgerEventKind.ViewLost, null, Words.Of(reason)));
    }

    private void Open()
    {
        Counts = true;
        foreach (var finding in book.Checks)
        {
            if (finding.Reading.Kind != ReadingKind.Unknown)
                conditions.Read(finding, finding.Reading);
        }

        book.Events.Add(new LedgerEvent(book.Now, book.Desk, 0, LedgerEventKind.ViewTaken));
        Settle();
    }

    private void Settle()
    {
        if (!IsSettling)
            return;
        IsSettling = false;
        foreach (var finding in book.Checks)
            book.Hold(finding, Holds.Settling, false);
    }
}
