namespace StateWatch.Core.Findings;

public sealed partial class FindingLedger
{
    /// <summary>Somebody knows of a finding. It expires after 20 min, or when it gets worse.</summary>
    /// <param name="key">site/desk/rule:subject.</param>
    /// <param name="by">Who.</param>
    /// <param name="now">The moment.</param>
    public CommandOutcome Acknowledge(string key, string by, Moment now)
    {
        Reach(now);
        if (!_book.ByKey.TryGetValue(key, out var finding))
            return CommandOutcome.UnknownKey;
        if (string.IsNullOrWhiteSpace(by))
            return CommandOutcome.NoAuthor;
        if (finding.Condition is not (Condition.Active or Condition.Clearing) && !finding.IsLatched)
            return CommandOutcome.NothingRaised;
        finding.Acknowledgement = new Acknowledgement(by, Later(LedgerNumbers.AcknowledgedFor), finding.Severity, finding.LastDrift.Band);
        finding.IsLatched = false;
        _book.Log(finding, LedgerEventKind.Acknowledged, by);
        _book.Touch(finding);
        return CommandOutcome.Done;
    }

    /// <summary>Puts a finding aside for a while. Ends by itself, at the end of the event at the latest, and after 30 days in any case.</summary>
    /// <param name="key">site/desk/rule:subject.</param>
    /// <param name="by">Who.</param>
    /// <param name="why">Why.</param>
    /// <param name="span">For how long; null for 30 min.</param>
    /// <param name="isOneShot">Whether only for the episode that is raised now.</param>
    /// <param name="now">The moment.</param>
    public CommandOutcome Shelve(string key, string by, string why, TimeSpan? span, bool isOneShot, Moment now)
    {
        Reach(now);
        if (Check(key, by, why, span ?? LedgerNumbers.ShelvedFor, out var finding) is not CommandOutcome.Done and var refusal)
            return refusal;
        if (finding!.Check.IsProtected)
            return CommandOutcome.Protected;
        if (isOneShot && finding.Condition is not (Condition.Active or Condition.Clearing))
            return CommandOutcome.NothingRaised;
        var length = span ?? LedgerNumbers.ShelvedFor;
        if (_eventEnds is { } end)
        {
            if (end <= now.Wall)
                return CommandOutcome.EventOver;
            length = end - now.Wall < length ? end - now.Wall : length;
        }

        finding.Shelf = new HoldOrder(by, why, Later(length), isOneShot ? finding.Episode : null);
        _book.Hold(finding, Holds.Shelved, true, by, why);
        _book.Touch(finding);
        return CommandOutcome.Done;
    }

    /// <summary>Ends a shelf before its time.</summary>
    public CommandOutcome Unshelve(string key, string by, Moment now)
    {
        Reach(now);
        if (!_book.ByKey.TryGetValue(key, out var finding))
            return CommandOutcome.UnknownKey;
        if (finding.Shelf is null)
            return CommandOutcome.NotHeld;
        finding.Shelf = null;
        _book.Hold(finding, Holds.Shelved, false, by);
        return CommandOutcome.Done;
    }

    /// <summary>Takes a check out of service for a while: it is judged and kept in the journal, and not told.</summary>
    public CommandOutcome TakeOutOfService(string key, string by, string why, TimeSpan span, Moment now)
    {
        Reach(now);
        if (Check(key, by, why, span, out var finding) is not CommandOutcome.Done and var refusal)
            return refusal;
        if (finding!.Origin != FindingOrigin.Check)
            return CommandOutcome.Protected;
        finding.OutOfService = new HoldOrder(by, why, Later(span));
        _book.Hold(finding, Holds.OutOfService, true, by, why);
        _book.Touch(finding);
        return CommandOutcome.Done;
    }

    /// <summary>Takes a check back into service before its time.</summary>
    public CommandOutcome ReturnToService(string key, string by, Moment now)
    {
        Reach(now);
        if (!_book.ByKey.TryGetValue(key, out var finding))
            return CommandOutcome.UnknownKey;
        if (finding.OutOfService is null)
            return CommandOutcome.NotHeld;
        finding.OutOfService = null;
        _book.Hold(finding, Holds.OutOfService, false, by);
        return CommandOutcome.Done;
    }

    /// <summary>Says when the event ends: no shelf outlasts it. Null when nobody knows.</summary>
    public void EventEnds(DateTimeOffset? end, Moment now)
    {
        Reach(now);
        _eventEnds = end;
        if (end is not { } wall)
            return;
        var last = Later(wall - now.Wall);
        foreach (var finding in _book.Checks)
        {
            if (finding.Shelf is not { } shelf || shelf.Until <= last)
                continue;
            finding.Shelf = last > _book.Now.Clock ? shelf with { Until = last } : null;
            _book.Hold(finding, Holds.Shelved, finding.Shelf is not null, null, "the event is over");
            _book.Touch(finding);
        }
    }

    private CommandOutcome Check(string key, string by, string why, TimeSpan span, out TrackedFinding? finding)
    {
        if (!_book.ByKey.TryGetValue(key, out finding) || finding.IsRetired)
            return CommandOutcome.UnknownKey;
        if (string.IsNullOrWhiteSpace(by))
            return CommandOutcome.NoAuthor;
        if (string.IsNullOrWhiteSpace(why))
            return CommandOutcome.NoReason;
        return span <= TimeSpan.Zero ? CommandOutcome.NoExpiry : CommandOutcome.Done;
    }

    // What would be put aside for years is nobody's any more, and a span beyond all time would overflow the clock.
    private TimeSpan Later(TimeSpan span) => _book.Now.Clock + (span < LedgerNumbers.HeldAtMost ? span : LedgerNumbers.HeldAtMost);

    private void EndHolds()
    {
        var now = _book.Now.Clock;
        TakeDue();
        foreach (var finding in _due)
        {
            if (finding.Acknowledgement?.Until <= now)
            {
                finding.Acknowledgement = null;
                _book.Log(finding, LedgerEventKind.AcknowledgementEnded, null, "it expired");
                _book.Touch(finding);
            }

            if (finding.Shelf?.Until <= now)
            {
                finding.Shelf = null;
                _book.Hold(finding, Holds.Shelved, false);
            }

            if (finding.OutOfService?.Until <= now)
            {
                finding.OutOfService = null;
                _book.Hold(finding, Holds.OutOfService, false);
            }
        }

        EndWindows();
    }
}
