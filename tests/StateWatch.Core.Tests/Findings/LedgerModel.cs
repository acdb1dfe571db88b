namespace StateWatch.Core.Tests.Findings;

/// <summary>
/// The life of findings once more, simple and slow: every tick of 100 ms it looks at every key and counts. Written from the description of the life of a
/// finding; it shares no code with the ledger.
/// </summary>
internal sealed partial class LedgerModel
{
    private const int Minute = 600;
    private readonly SortedDictionary<string, ModelRow> _rows = new(StringComparer.Ordinal);
    private readonly List<(string Id, int Until, string Key, string[] Values)> _windows = [];
    private readonly List<(string Id, int Until, HashSet<string> Keys)> _settlings = [];
    private readonly ModelRow _unreachable, _incomplete, _bulk;
    private readonly List<ModelRow> _recent = [];
    private readonly List<ModelRow> _members = [];
    private List<ModelRow> _plan = [];
    private long _session;
    private bool _linked, _settling, _counts;
    private int? _deadline, _gatherEnds, _bulkUntil, _eventEnds;
    private string? _anew;
    private ModelRow[]? _all;

    public LedgerModel(IEnumerable<ModelRow> plan)
    {
        _bulk = Add(new ModelRow("hall/desk/bulk-change:desk", 0, 0, false, true, "bulk"));
        _unreachable = Add(new ModelRow("hall/desk/source-unreachable:desk", 3, 20, false, true, "watch"));
        _incomplete = Add(new ModelRow("hall/desk/incomplete-view:desk", 0, 0, false, true, "watch"));
        SetPlan(plan);
    }

    public int Now { get; private set; }

    // In the order of keys; only for speed not the dictionary itself.
    private ModelRow[] All => _all ??= [.. _rows.Values];

    public IEnumerable<string> States => _rows.Values.Select(static row => row.ToString());

    public ModelRow this[string key] => _rows[key];

    public bool Has(string key) => _rows.ContainsKey(key);

    /// <summary>Lives to a later tick.</summary>
    public void Reach(int tick)
    {
        while (Now < tick)
        {
            Tell();
            Now++;
            foreach (var row in All)
            {
                row.DriftTicks += row.Evidence == "fresh" && row.Condition is ("pending" or "active") ? 1 : 0;
                row.LesserTicks += row.Evidence == "fresh" ? 1 : 0;
                row.MatchTicks += row.Evidence == "fresh" && row.Condition == "clearing" ? 1 : 0;
            }

            Elapse();
        }
    }

    public void Start()
    {
        (_session, _linked, _settling) = (0, false, true);
        foreach (var row in _plan)
            row.Settling = true;
        Freeze(_unreachable, "stale restart");
        Freeze(_incomplete, "stale restart");
        Lose("stale restart");
        _deadline = Now + 300;
        Elapse();
    }

    /// <summary>A restart: time passes without the model looking.</summary>
    public void SleepAndStart(int ticks)
    {
        Tell();
        if (_gatherEnds is not null)
        {
            _gatherEnds = Now;
            var until = _bulkUntil;
            EndGather();
            _bulkUntil ??= until;
        }

        foreach (var row in _rows.Values)
            row.SteadyFrom += ticks;
        Now += ticks;
        Start();
    }

    public void LinkUp(long session)
    {
        if (session <= _session)
            return;
        (_session, _linked) = (session, true);
        Judge(_unreachable, new ModelReading('='));
        Lose("stale newsession");
        _deadline = _settling ? _deadline : Now + 300;
    }

    public void LinkLost(long session)
    {
        if (session < _session || (session == _session && !_linked && session > 0))
            return;
        (_session, _linked) = (session, false);
        Judge(_unreachable, new ModelReading('!', 3));
        Lose("stale linklost");
        _deadline = _settling ? _deadline : null;
    }

    public void Gap(long session)
    {
        if (session <= _session || !_linked)
            return;
        _session = session;
        Lose("stale gap");
        // Who waits already goes on waiting; whose view is called incomplete waits no more.
        if (!_settling)
            _deadline ??= _incomplete.Condition == "active" ? Now : Now + 300;
        EndWaiting();
    }

    public void Snapshot(long session)
    {
        if (session != _session || !_linked)
            return;
        _deadline = null;
        Judge(_incomplete, new ModelReading('='));
        if (!_counts)
            Look();
    }

    public void Observe(string key, ModelReading reading)
    {
        _rows[key].Last = reading;
        if (_counts)
            Judge(_rows[key], reading);
    }

    public void Reload(IEnumerable<ModelRow> plan)
    {
        _anew = "plan";
        SetPlan(plan);
    }

    public void Phase() => _anew = "phase";

    private ModelRow Add(ModelRow row)
    {
        _all = null;
        return _rows[row.Key] = row;
    }

    private void SetPlan(IEnumerable<ModelRow> plan)
    {
        var before = _plan;
        _plan = [.. plan.Select(row => _rows.TryGetValue(row.Key, out var known) ? known.TimedAs(row) : Add(row))];
        foreach (var row in _plan)
        {
            row.Retired = false;
            row.Settling = _settling;
        }

        foreach (var row in before.Except(_plan))
        {
            if (row.Condition != "normal")
                Close(row, "plan");
            (row.Retired, row.Gathering, row.Recent) = (true, false, false);
            _recent.Remove(row);
            _members.Remove(row);
            (row.Settling, row.Inhibited, row.Expected, row.Damped, row.Shelf, row.OutOfServiceUntil) = (false, false, false, false, null, null);
            (row.Known, row.Latched, row.Evidence, row.Last, row.Drift) = (null, false, "unseen", new('?'), new('?'));
            if (row.Episode == 0)
                _rows.Remove(row.Key);
        }

        _all = null;
    }

    private void Lose(string why)
    {
        _counts = false;
        foreach (var row in _plan)
        {
            row.Last = new ModelReading('?');
            Freeze(row, why);
        }
    }

    private void Look()
    {
        _counts = true;
        foreach (var row in _plan.Where(static row => row.Last.Kind != '?'))
            Judge(row, row.Last);
        Settle();
    }

    private void Settle()
    {
        _settling = false;
        foreach (var row in _plan)
            row.Settling = false;
    }

    // What time does, in this order: the wait for a full read, holds, conditions, the gather, what is damped.
    private void Elapse()
    {
        EndWaiting();
        EndHolds();
        foreach (var row in All)
            Ripen(row);
        EndGather();
        foreach (var row in All)
            LookAtDamped(row);
    }

    private void EndWaiting()
    {
        if (!(_deadline <= Now))
            return;
        _deadline = null;
        if (_linked)
        {
            Judge(_incomplete, new ModelReading('!', 2));
            Look();
        }
        else
        {
            Settle();
        }
    }

    private void EndHolds()
    {
        foreach (var row in All)
        {
            row.Known = row.Known?.Until <= Now ? null : row.Known;
            row.Shelf = row.Shelf?.Until <= Now ? null : row.Shelf;
            row.OutOfServiceUntil = row.OutOfServiceUntil <= Now ? null : row.OutOfServiceUntil;
        }

        var over = _windows.RemoveAll(window => window.Until <= Now) > 0;
        if (over || _settlings.Exists(settling => settling.Until <= Now))
            EndSettlings(settling => settling.Until <= Now);
    }

    private void LookAtDamped(ModelRow row)
    {
        if (!row.Damped)
            return;
        var looks = (Now - row.DampedFrom) / 10;
        if (looks <= row.Looks)
            return;
        row.Looks = looks;
        var calm = row.Evidence == "fresh" && Now - row.SteadyFrom >= Minute && row.Restless(Now) <= 1;
        if (calm || Now - row.DampedFrom >= 15 * Minute)
            row.Damped = false;
        else if ((Now - row.DampedFrom) % Minute == 0)
            row.Remind = true;
    }
}
