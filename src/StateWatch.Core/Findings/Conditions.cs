using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Moves findings between on plan and off plan, by what is fresh and by time.</summary>
internal sealed class Conditions(LedgerBook book, Damping damping)
{
    /// <summary>Called with every finding that goes off plan.</summary>
    public Action<TrackedFinding> Drifted { get; set; } = static _ => { };

    /// <summary>Takes what a check says, where the view counts.</summary>
    public void Read(TrackedFinding finding, Reading reading)
    {
        if (reading.Kind is ReadingKind.Unknown or ReadingKind.Unsupported)
        {
            Freeze(finding, reading.Kind == ReadingKind.Unsupported ? Evidence.Unsupported : Evidence.Stale, StaleReason.CannotTell);
            return;
        }

        if (finding.Evidence != Evidence.Fresh)
            Thaw(finding);
        if (reading.Kind == ReadingKind.Drift && reading.Severity > Severity.Silent)
            Drift(finding, reading);
        else
            Match(finding, reading.IsInner || reading.Kind == ReadingKind.Drift);
    }

    /// <summary>Stops the timers of a finding of which nothing fresh is known any more; what it is, it stays.</summary>
    public void Freeze(TrackedFinding finding, Evidence evidence, StaleReason reason)
    {
        if (finding.Evidence == Evidence.Unseen && evidence == Evidence.Stale)
            return;
        var stale = evidence == Evidence.Stale ? reason : StaleReason.None;
        if (finding.Evidence == evidence && finding.StaleReason == stale)
            return;
        finding.Accumulated = finding.DriftedFor(book.Now.Clock);
        (finding.Evidence, finding.StaleReason) = (evidence, stale);
        book.Touch(finding);
    }

    /// <summary>Lets time raise and clear.</summary>
    public void Elapse(TrackedFinding finding)
    {
        if (finding.Evidence != Evidence.Fresh)
            return;
        var drifted = finding.DriftedFor(book.Now.Clock);
        if (!finding.HasLasted && drifted >= LedgerNumbers.MomentaryFor)
            Last(finding);
        if (finding.LesserSince is { } lesser && book.Now.Clock - lesser >= finding.Check.OffDelay)
            TakeWeight(finding);
        if (finding.Condition == Condition.Pending && drifted >= finding.Check.OnDelay)
            Raise(finding);
        else if (finding.Condition == Condition.Clearing && book.Now.Clock - finding.Since >= finding.Check.OffDelay)
            Close(finding, CloseReason.Recovered);
    }

    // It comes of time alone, not of anybody's going to and fro: nothing is stirred.
    private void Last(TrackedFinding finding)
    {
        finding.HasLasted = true;
        if (finding.Condition == Condition.Active && WeightOf(finding) >= finding.Severity)
            TakeWeight(finding);
    }

    /// <summary>Ends an episode, or what had not become one.</summary>
    public void Close(TrackedFinding finding, CloseReason reason)
    {
        var wasRaised = finding.Condition is Condition.Active or Condition.Clearing;
        Go(finding, Condition.Normal);
        finding.LesserSince = null;
        book.Hold(finding, Holds.Expected, false);
        if (!wasRaised)
        {
            book.Log(finding, LedgerEventKind.Fleeting, null, reason == CloseReason.Recovered ? null : Words.Of(reason));
            return;
        }

        (finding.ClosedAt, finding.ClosedFor) = (book.Now.Clock, reason);
        finding.IsLatched = finding.Check.IsLatching && finding.Acknowledgement is null && reason == CloseReason.Recovered;
        // What a cue brings about within its time to settle is what was meant; and what another phase or plan does not call wrong never came and went.
        var isSettling = book.Settles(finding.Key);
        for (var sink = 0; sink < finding.Sinks.Length; sink++)
        {
            ref var standing = ref finding.Sinks[sink];
            if (standing.Offered.Episode == finding.Episode || isSettling || reason != CloseReason.Recovered || finding.Severity < book.Sinks[sink].Least)
                continue;
            if (standing.Passed == 0 || standing.PassedEpisode != finding.Episode)
                standing.Passed++;
            (standing.PassedEpisode, standing.PassedSeverity) = (finding.Episode, finding.Severity);
        }

        book.Log(finding, LedgerEventKind.Closed, null, Words.Of(reason));
    }

    private void Thaw(TrackedFinding finding)
    {
        (finding.Evidence, finding.StaleReason) = (Evidence.Fresh, StaleReason.None);
        // What was pending goes on from the fresh drift it had; what was clearing begins anew, since its match was interrupted.
        finding.Since = finding.SteadySince = book.Now.Clock;
        finding.LesserSince = finding.LesserSince is null ? null : book.Now.Clock;
        book.Touch(finding);
    }

    private void Drift(TrackedFinding finding, Reading reading)
    {
        var weighsAnew = finding.LesserSince is not null && book.JudgedAnew != CloseReason.Recovered;
        if (finding.Condition != Condition.Normal && finding.LastDrift == reading && finding.Condition != Condition.Clearing && !weighsAnew)
        {
            // Nothing new, but a plan read anew may ask for less time than before.
            Elapse(finding);
            return;
        }

        finding.LastDrift = reading;
        book.Touch(finding);
        switch (finding.Condition)
        {
            case Condition.Normal:
                Go(finding, Condition.Pending);
                (finding.Since, finding.PendingAt, finding.Accumulated, finding.HasLasted) = (book.Now.Clock, book.Now.Clock, TimeSpan.Zero, false);
                book.Log(finding, LedgerEventKind.Drifted);
                Drifted(finding);
                break;
            case Condition.Clearing:
                Go(finding, Condition.Active);
                finding.Since = book.Now.Clock;
                finding.Relapses++;
                book.Log(finding, LedgerEventKind.Relapsed);
                damping.Stir(finding);
                break;
        }

        if (finding.Condition == Condition.Active)
            Weigh(finding);
        book.Hold(finding, Holds.Expected, book.Permits(finding));
        Elapse(finding);
    }

    private void Match(TrackedFinding finding, bool isInner)
    {
        if (finding.Condition == Condition.Normal)
            return;
        if (finding.Condition == Condition.Pending || book.JudgedAnew != CloseReason.Recovered)
        {
            Close(finding, book.JudgedAnew);
        }
        else if (finding.Condition == Condition.Active && isInner)
        {
            finding.Accumulated = finding.DriftedFor(book.Now.Clock);
            Go(finding, Condition.Clearing);
            (finding.Since, finding.LesserSince) = (book.Now.Clock, null);
            book.Log(finding, LedgerEventKind.Recovering);
            Elapse(finding);
        }
    }

    private void Raise(TrackedFinding finding)
    {
        var reopens = finding.ClosedAt is { } closed && finding.PendingAt - closed <= LedgerNumbers.ReopenWithin;
        Go(finding, Condition.Active);
        finding.ClosedAt = null;
        finding.IsLatched = false;
        if (reopens)
            finding.Relapses++;
        else
            BeginEpisode(finding);
        TakeWeight(finding);
        book.Log(finding, reopens ? LedgerEventKind.Reopened : LedgerEventKind.Raised);
        damping.Stir(finding);
    }

    // It is at once as grave as it gets, and less so only when it stays that: else each ride of a fader over an edge would be told, up and down.
    private void Weigh(TrackedFinding finding)
    {
        var weight = WeightOf(finding);
        if (weight < finding.Severity && book.JudgedAnew == CloseReason.Recovered)
        {
            finding.LesserSince ??= book.Now.Clock;
            ForgetKnown(finding);
            return;
        }

        // Another plan or phase weighs otherwise, and more and more members make a root heavier: neither goes to and fro.
        if (weight > finding.Severity && finding.Origin == FindingOrigin.Check && book.JudgedAnew == CloseReason.Recovered)
            damping.Stir(finding);
        TakeWeight(finding);
    }

    private Severity WeightOf(TrackedFinding finding) => finding.WeightAt(book.Now.Clock);

    private void TakeWeight(TrackedFinding finding)
    {
        var weight = WeightOf(finding);
        if (weight != finding.Severity)
            finding.SteadySince = book.Now.Clock;
        (finding.Severity, finding.LesserSince) = (weight, null);
        book.Touch(finding);
        ForgetKnown(finding);
    }

    // What got worse than it was when somebody said that they knew is not known any more.
    private void ForgetKnown(TrackedFinding finding)
    {
        if (finding.Acknowledgement is not { } known || (WeightOf(finding) <= known.Severity && finding.LastDrift.Band <= known.Band))
            return;
        finding.Acknowledgement = null;
        book.Log(finding, LedgerEventKind.AcknowledgementEnded, null, "it got worse");
    }

    private void BeginEpisode(TrackedFinding finding)
    {
        finding.Episode++;
        finding.Relapses = 0;
        finding.RaisedAt = book.Now.Wall;
        finding.Acknowledgement = null;
        if (finding.Shelf?.OnlyEpisode is not { } only || only == finding.Episode)
            return;
        finding.Shelf = null;
        book.Hold(finding, Holds.Shelved, false);
    }

    private void Go(TrackedFinding finding, Condition condition)
    {
        finding.Condition = condition;
        finding.SteadySince = book.Now.Clock;
        book.Touch(finding);
    }
}
