namespace StateWatch.Core.Findings;

/// <content>What is expected for a while, and what is given time to settle.</content>
public sealed partial class FindingLedger
{
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

        _book.Windows.RemoveAll(window => window.IsNamed(id));
        _book.Windows.Add(new OpenWindow(new ExpectedWindow(id, by, why, Later(span), [.. changes])));
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
            foreach (var key in window.IsSettling ? [] : window.Keys)
            {
                if (_book.ByKey.TryGetValue(key, out var finding) && finding is { IsRetired: false, Origin: FindingOrigin.Check })
                    checks.Add(finding.Number);
            }
        }
    }

    /// <summary>
    /// Gives checks time to settle after a cue, whatever their values meanwhile: what is off plan is held and taken for no bulk change. What still is
    /// at the end counts as having gone off plan then. Where a window of the same name is open, what has not got there yet is given the later of both ends.
    /// </summary>
    /// <param name="id">Name of the window.</param>
    /// <param name="by">Who or what brought it about.</param>
    /// <param name="checks">Numbers of the checks.</param>
    /// <param name="span">How long; above zero.</param>
    /// <param name="now">The moment.</param>
    public void Settle(string id, string by, IReadOnlyList<int> checks, TimeSpan span, Moment now)
    {
        Reach(now);
        var keys = span > TimeSpan.Zero ? checks.Select(check => _book.Checks[check].Key).ToHashSet(StringComparer.Ordinal) : [];
        var until = Later(span);
        foreach (var open in _book.Windows.Where(window => window.IsNamed(id)))
        {
            // Where everything has got there the time that is left is nobody's any more.
            var late = open.Keys.Where(IsOnItsWay).ToList();
            keys.UnionWith(late);
            until = late.Count > 0 && open.Until > until ? open.Until : until;
        }

        _book.Windows.RemoveAll(window => window.IsNamed(id));
        if (keys.Count > 0)
            _book.Windows.Add(new OpenWindow(new ExpectedWindow(id, by, "settling", until, [.. keys.Select(static key => new ExpectedChange(key, []))]) { IsSettling = true }));
        JudgeExpected();
    }

    /// <summary>Ends a window before its time.</summary>
    public CommandOutcome EndExpected(string id, Moment now)
    {
        Reach(now);
        var ended = _book.Windows.FindAll(window => window.IsNamed(id));
        if (ended.Count == 0)
            return CommandOutcome.NotHeld;
        End(ended);
        return CommandOutcome.Done;
    }

    // Off plan, or nobody knows yet.
    private bool IsOnItsWay(string key) =>
        _book.ByKey.TryGetValue(key, out var finding) && !finding.IsRetired && (finding.Condition != Condition.Normal || finding.Evidence != Evidence.Fresh);

    private void EndWindows()
    {
        var ended = _book.Windows.FindAll(window => window.Until <= _book.Now.Clock);
        if (ended.Count > 0)
            End(ended);
    }

    private void End(List<OpenWindow> ended)
    {
        var settled = ended.Where(static window => window.IsSettling).SelectMany(static window => window.Keys).ToHashSet(StringComparer.Ordinal);
        foreach (var finding in _book.Checks)
        {
            // It got there in time: what was never told is over with the window.
            if (finding.Condition == Condition.Clearing && settled.Contains(finding.Key) && !finding.Level.IsNews)
                _conditions.Close(finding, CloseReason.Recovered);
        }

        _book.Windows.RemoveAll(ended.Contains);
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
