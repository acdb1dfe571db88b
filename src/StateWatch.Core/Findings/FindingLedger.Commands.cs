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

    /// <summary>Expects changes for a while: drift to a permitted value is held, any other is told as ever. What is still off plan at the end is told then.</summary>
    /// <param name="id">Name of the window; an open one of the same name is replaced.</param>
    /// <param name="by">Who.</param>
    /// <param name="why">Why.</param>
    /// <param name="changes">What is expected.</param>
    /// <param name="span">For how long.</param>
    /// <param name="now">The moment.</param>
    public CommandOutcome Expect(string id, string by, string why, IReadOnlyList<ExpectedChange> changes, TimeSpan span, Moment now)
    {
        Reach(now);
        if (changes.Count == 0 || changes.Any(static change => change.Values.Count == 0))
            return CommandOutcome.NoValues;
        foreach (var change in changes)
        {
            if (Check(change.Key, by, why, span, out _) is not CommandOutcome.Done and var refusal)
                return refusal;
        }

        _book.Windows.RemoveAll(window => string.Equals(window.Id, id, StringComparison.Ordinal));
        _book.Windows.Add(new ExpectedWindow(id, by, why, Later(span), [.. changes]));
        JudgeExpected();
        return CommandOutcome.Done;
    }

    /// <summary>Adds the checks of which open windows speak: their drift must be handed in with the live value, whenever that changes.</summary>
    /// <param name="checks">Where their numbers are added, each once for every window.</param>
    public void AddExpected(List<int> checks)
    {
        foreach (var window in _book.Windows)
        {
            // What settles is held whatever its value.
            for (var i = 0; i < window.Changes.Count && !window.IsSettling; i++)
            {
                if (_book.ByKey.TryGetValue(window.Changes[i].Key, out var finding) && finding is { IsRetired: false, Origin: FindingOrigin.Check })
                    checks.Add(finding.Number);
            }
        }
    }

    /// <summary>
    /// Gives checks time to settle after a cue, whatever their values meanwhile: what is off plan is held and taken for no bulk change. What still is
    /// at the end counts as having gone off plan then.
    /// </summary>
    /// <param name="id">Name of the window; an open one of the same name is replaced.</param>
    /// <param name="by">Who or what brought it about.</param>
    /// <param name="checks">Numbers of the checks.</param>
    /// <param name="span">How long.</param>
    /// <param name="now">The moment.</param>
    public void Settle(string id, string by, IReadOnlyList<int> checks, TimeSpan span, Moment now)
    {
        Reach(now);
        _book.Windows.RemoveAll(window => string.Equals(window.Id, id, StringComparison.Ordinal));
        if (checks.Count > 0 && span > TimeSpan.Zero)
            _book.Windows.Add(new ExpectedWindow(id, by, "settling", Later(span), [.. checks.Select(check => new ExpectedChange(_book.Checks[check].Key, []))]) { IsSettling = true });
        JudgeExpected();
    }

    /// <summary>Ends a window before its time.</summary>
    public CommandOutcome EndExpected(string id, Moment now)
    {
        Reach(now);
        if (_book.Windows.RemoveAll(window => string.Equals(window.Id, id, StringComparison.Ordinal)) == 0)
            return CommandOutcome.NotHeld;
        JudgeExpected();
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
            _book.Hold(finding, Holds.Shelved, finding.Shelf is not null);
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

        if (!_book.Windows.Exists(window => window.Until <= now))
            return;
        var settled = _book.Windows.Where(window => window.IsSettling && window.Until <= now).SelectMany(static window => window.Changes).Select(static change => change.Key).ToHashSet(StringComparer.Ordinal);
        foreach (var finding in _book.Checks)
        {
            // It got there in time: what was never told is over with the window.
            if (finding.Condition == Condition.Clearing && settled.Contains(finding.Key) && !finding.Level.IsNews)
                _conditions.Close(finding, CloseReason.Recovered);
        }

        _book.Windows.RemoveAll(window => window.Until <= now);
        JudgeExpected(settled);
    }

    private void JudgeExpected() => JudgeExpected([]);

    private void JudgeExpected(HashSet<string> settled)
    {
        foreach (var finding in _book.Checks)
        {
            if (finding.Condition == Condition.Normal)
                continue;
            var wasHeld = (finding.Holds & Holds.Expected) != Holds.None;
            _book.Hold(finding, Holds.Expected, _book.Permits(finding));
            if (wasHeld && finding.Condition != Condition.Clearing && (finding.Holds & Holds.Expected) == Holds.None && settled.Contains(finding.Key))
                _bulk.Settled(finding);
        }
    }
}
