namespace StateWatch.Core.Tests.Findings;

internal sealed partial class LedgerModel
{
    public string Acknowledge(string key, string by)
    {
        if (!_rows.TryGetValue(key, out var row))
            return "UnknownKey";
        if (by.Trim().Length == 0)
            return "NoAuthor";
        if (!row.IsOn && !row.Latched)
            return "NothingRaised";
        (row.Known, row.Latched) = ((Now + 20 * Minute, row.Severity, row.Drift.Band), false);
        return "Done";
    }

    public string Shelve(string key, string by, string why, int? span, bool oneShot)
    {
        if (Refuse(key, by, why, span ?? 1) is { } refusal)
            return refusal;
        var row = _rows[key];
        if (row.Guarded)
            return "Protected";
        if (oneShot && !row.IsOn)
            return "NothingRaised";
        if (_eventEnds <= Now)
            return "EventOver";
        row.Shelf = (Math.Min(Now + (span ?? 30 * Minute), _eventEnds ?? int.MaxValue), oneShot ? row.Episode : null);
        return "Done";
    }

    public string Unshelve(string key)
    {
        if (!_rows.TryGetValue(key, out var row))
            return "UnknownKey";
        if (row.Shelf is null)
            return "NotHeld";
        row.Shelf = null;
        return "Done";
    }

    public string TakeOutOfService(string key, string by, string why, int span)
    {
        if (Refuse(key, by, why, span) is { } refusal)
            return refusal;
        if (_rows[key].Origin != "plan")
            return "Protected";
        _rows[key].OutOfServiceUntil = Now + span;
        return "Done";
    }

    public string ReturnToService(string key)
    {
        if (!_rows.TryGetValue(key, out var row))
            return "UnknownKey";
        if (row.OutOfServiceUntil is null)
            return "NotHeld";
        row.OutOfServiceUntil = null;
        return "Done";
    }

    public string Expect(string id, string by, string why, string key, string[] values, int span)
    {
        if (values.Length == 0)
            return "NoValues";
        if (Refuse(key, by, why, span) is { } refusal)
            return refusal;
        _windows.RemoveAll(window => window.Id == id);
        _windows.Add((id, Now + span, key, values));
        JudgeExpected();
        return "Done";
    }

    public string EndExpected(string id)
    {
        if (_windows.RemoveAll(window => window.Id == id) == 0)
            return "NotHeld";
        JudgeExpected();
        return "Done";
    }

    public void Settle(string id, IEnumerable<string> keys, int span)
    {
        HashSet<string> named = [.. span > 0 ? keys : []];
        var until = Now + span;
        foreach (var settling in _settlings.Where(settling => settling.Id == id))
        {
            foreach (var row in _plan.Where(row => settling.Keys.Contains(row.Key) && (row.Condition != "normal" || row.Evidence != "fresh")))
            {
                named.Add(row.Key);
                until = Math.Max(until, settling.Until);
            }
        }

        _settlings.RemoveAll(settling => settling.Id == id);
        _settlings.Add((id, until, named));
        JudgeExpected();
    }

    public void EndSettling(string id) => EndSettlings(settling => settling.Id == id);

    private void EndSettlings(Predicate<(string Id, int Until, HashSet<string> Keys)> isOver)
    {
        var over = _settlings.FindAll(isOver).SelectMany(static settling => settling.Keys).ToHashSet();
        // What has got there is over without a word, unless somebody had been told of it before.
        foreach (var row in _plan.Where(row => over.Contains(row.Key) && row.Condition == "clearing" && !row.Level.News))
            Close(row, "match");
        _settlings.RemoveAll(isOver);
        var held = _plan.Where(static row => row.Expected).ToList();
        JudgeExpected();
        foreach (var row in held.Where(row => !row.Expected && over.Contains(row.Key) && row.Condition is "pending" or "active"))
        {
            row.WentOff = Now;
            Gather(row);
        }
    }

    public void EventEnds(int? tick)
    {
        _eventEnds = tick;
        if (tick is not { } end)
            return;
        foreach (var row in _plan.Where(row => row.Shelf?.Until > end))
            row.Shelf = end > Now ? (end, row.Shelf!.Value.Only) : null;
    }

    private string? Refuse(string key, string by, string why, int span)
    {
        if (!_rows.TryGetValue(key, out var row) || row.Retired)
            return "UnknownKey";
        if (by.Trim().Length == 0)
            return "NoAuthor";
        if (why.Trim().Length == 0)
            return "NoReason";
        return span <= 0 ? "NoExpiry" : null;
    }
}
