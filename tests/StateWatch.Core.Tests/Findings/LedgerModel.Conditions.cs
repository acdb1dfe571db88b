namespace StateWatch.Core.Tests.Findings;

internal sealed partial class LedgerModel
{
    private static void Freeze(ModelRow row, string evidence)
    {
        if (row.Evidence != "unseen" || evidence == "unsupported")
            row.Evidence = evidence;
    }

    private void Judge(ModelRow row, ModelReading reading)
    {
        if (reading.Kind is '?' or '-')
        {
            Freeze(row, reading.Kind == '?' ? "stale cannottell" : "unsupported");
            return;
        }

        if (row.Evidence != "fresh")
        {
            // What drifts keeps the fresh drift it had; clearing and weighing less begin anew.
            (row.Evidence, row.MatchTicks, row.SteadyFrom) = ("fresh", 0, Now);
            row.LesserTicks = row.LesserTicks is null ? null : 0;
        }

        if (reading.Kind == '!' && reading.Severity > 0)
            JudgeDrift(row, reading);
        else
            JudgeMatch(row, reading.Kind != '~');
    }

    private void JudgeDrift(ModelRow row, ModelReading reading)
    {
        row.Drift = reading;
        if (row.IsOn && IsWorse(row))
            row.Known = null;
        if (row.Condition == "normal")
        {
            Go(row, "pending");
            (row.DriftTicks, row.WentOff) = (0, Now);
            Gather(row);
        }
        else if (row.Condition == "clearing")
        {
            Go(row, "active");
            row.Relapses++;
            Stir(row);
        }

        if (row.Condition == "active")
            Weigh(row);
        row.Expected = IsExpected(row);
        Ripen(row);
    }

    private void JudgeMatch(ModelRow row, bool inner)
    {
        if (row.Condition == "pending" || (row.IsOn && _anew is not null))
        {
            Close(row, _anew ?? "match");
        }
        else if (row.Condition == "active" && inner)
        {
            Go(row, "clearing");
            (row.MatchTicks, row.LesserTicks) = (0, null);
            Ripen(row);
        }
    }

    private void Ripen(ModelRow row)
    {
        if (row.Evidence != "fresh")
            return;
        if (row.Condition == "active" && (row.Weight >= row.Severity || row.LesserTicks >= row.Off))
            SetSeverity(row);
        if (row.Condition == "pending" && row.DriftTicks >= row.On)
            Raise(row);
        else if (row.Condition == "clearing" && row.MatchTicks >= row.Off)
            Close(row, "match");
    }

    // A reading that says worse counts at once, and as coming and going; one that says better counts when it has stayed so long that the finding would be over.
    private void Weigh(ModelRow row)
    {
        if (row.Weight < row.Severity && _anew is null)
        {
            row.LesserTicks ??= 0;
            return;
        }

        if (row.Weight > row.Severity && _anew is null && row.Origin == "plan")
            Stir(row);
        SetSeverity(row);
    }

    private void SetSeverity(ModelRow row)
    {
        if (row.Severity != row.Weight)
            row.SteadyFrom = Now;
        (row.Severity, row.LesserTicks) = (row.Weight, null);
        row.Known = IsWorse(row) ? null : row.Known;
    }

    private void Raise(ModelRow row)
    {
        var again = row.Closed is { } closed && row.WentOff - closed <= Minute;
        Go(row, "active");
        (row.Closed, row.Latched, row.Severity) = (null, false, row.Weight);
        if (again)
        {
            row.Relapses++;
            row.Known = IsWorse(row) ? null : row.Known;
        }
        else
        {
            row.Episode++;
            (row.Relapses, row.Known) = (0, null);
            if (row.Shelf?.Only is { } only && only != row.Episode)
                row.Shelf = null;
        }

        Stir(row);
    }

    private static bool IsWorse(ModelRow row) => row.Known is { } known && (row.Weight > known.Severity || row.Drift.Band > known.Band);

    private void Close(ModelRow row, string why)
    {
        var raised = row.IsOn;
        Go(row, "normal");
        (row.Expected, row.LesserTicks) = (false, null);
        if (!raised)
            return;
        row.Closed = Now;
        row.Latched = row.Latching && row.Known is null && why == "match";
        foreach (var sink in row.Sinks.Where((sink, number) => sink.Offered.Episode != row.Episode && row.Severity >= Least[number] && why == "match" && !IsSettling(row)))
        {
            if (sink.Passed == 0 || sink.PassedEpisode != row.Episode)
                sink.Passed++;
            (sink.PassedEpisode, sink.PassedSeverity) = (row.Episode, row.Severity);
        }
    }

    private void Go(ModelRow row, string condition) => (row.Condition, row.SteadyFrom) = (condition, Now);

    private void Stir(ModelRow row)
    {
        row.Stirs.Add(Now);
        if (row.Damped || row.Restless(Now) < 4)
            return;
        (row.Damped, row.DampedFrom, row.Looks) = (true, Now, 0);
    }

    private bool IsExpected(ModelRow row) =>
        IsSettling(row) || _windows.Exists(window => window.Key == row.Key && row.Drift.Live is not null && window.Values.Contains(row.Drift.Live));

    private bool IsSettling(ModelRow row) => _settlings.Exists(settling => settling.Keys.Contains(row.Key));

    private void JudgeExpected()
    {
        foreach (var row in _plan.Where(static row => row.Condition != "normal"))
            row.Expected = IsExpected(row);
    }

    private void Gather(ModelRow row)
    {
        if (row.Origin != "plan" || IsSettling(row))
            return;
        if (_bulkUntil is not null)
        {
            _bulkUntil = Now + 20;
            Join(row);
            return;
        }

        row.Inhibited = false;
        _members.Remove(row);
        if (!row.Recent)
            _recent.Add(row);
        row.Recent = row.Gathering = true;
        _gatherEnds ??= Now + 5;
    }

    private void EndGather()
    {
        if (_gatherEnds <= Now)
        {
            _gatherEnds = null;
            foreach (var row in _recent)
                row.Gathering = false;
            var off = _recent.Where(row => Now - row.WentOff <= 20 && row.Condition != "normal").OrderBy(static row => row.Key, StringComparer.Ordinal).ToList();
            var enough = Math.Max(20, (int)Math.Ceiling(_plan.Count * 0.05));
            var isBulk = off.Count >= enough || off.Count(row => Now - row.WentOff <= 5) >= 10;
            foreach (var row in _recent.Where(row => isBulk || !off.Contains(row)))
                row.Recent = false;
            _recent.RemoveAll(static row => !row.Recent);
            if (isBulk)
            {
                off.ForEach(Join);
                _bulkUntil = off.Max(static row => row.WentOff) + 20;
            }
        }

        if (_bulkUntil <= Now)
            _bulkUntil = null;
    }

    private void Join(ModelRow row)
    {
        if (!_members.Contains(row))
            _members.Add(row);
        row.Inhibited = true;
        var severity = _bulk.Condition == "active" ? Math.Max(_bulk.Severity, row.Weight) : row.Weight;
        Judge(_bulk, new ModelReading('!', severity));
    }
}
