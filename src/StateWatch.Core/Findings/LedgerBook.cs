using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>What all parts of the ledger share: the findings, the moment, what was touched in it, and what came out.</summary>
internal sealed class LedgerBook(string desk)
{
    private readonly List<TrackedFinding> _touched = [];
    private readonly List<TrackedFinding> _busy = [];
    private readonly List<TrackedFinding> _changed = [];

    /// <summary>site/desk.</summary>
    public string Desk { get; } = desk;

    public Moment Now { get; set; }

    /// <summary>By number of the check.</summary>
    public List<TrackedFinding> Checks { get; } = [];

    public Dictionary<string, TrackedFinding> ByKey { get; } = new(StringComparer.Ordinal);

    public List<SinkState> Sinks { get; } = [];

    public List<OpenWindow> Windows { get; } = [];

    public List<LedgerEvent> Events { get; } = [];

    public List<Announcement> Announcements { get; } = [];

    /// <summary>How many digests there were.</summary>
    public int Digests { get; set; }

    /// <summary>In the moment in which the plan or the phase changed: why whatever is on plan is closed without delay.</summary>
    public CloseReason JudgedAnew { get; set; }

    /// <summary>Findings that something happened to in this moment.</summary>
    public List<TrackedFinding> Touched => _touched;

    /// <summary>Findings that time alone may change.</summary>
    public List<TrackedFinding> Busy => _busy;

    /// <summary>Findings that differ from when they were last taken for storage.</summary>
    public List<TrackedFinding> Changed => _changed;

    public TrackedFinding Add(string key, WatchedCheck check, FindingOrigin origin)
    {
        var finding = new TrackedFinding(key, check, origin) { Sinks = new SinkStanding[Sinks.Count] };
        ByKey.Add(key, finding);
        return finding;
    }

    /// <summary>Notes that something happened to a finding: it is told anew where that makes a difference.</summary>
    public void Touch(TrackedFinding finding)
    {
        if (!finding.IsTouched)
        {
            finding.IsTouched = true;
            _touched.Add(finding);
        }

        if (!finding.IsBusy)
        {
            finding.IsBusy = true;
            _busy.Add(finding);
        }

        MarkChanged(finding);
    }

    /// <summary>Notes that a finding differs from what is stored.</summary>
    public void MarkChanged(TrackedFinding finding)
    {
        if (finding.IsChanged)
            return;
        finding.IsChanged = true;
        _changed.Add(finding);
    }

    public void Log(TrackedFinding finding, LedgerEventKind kind, string? by = null, string? text = null) =>
        Events.Add(new LedgerEvent(Now, finding.Key, finding.Episode, kind, by, text));

    /// <summary>Begins or ends a hold, and says so when that is a change.</summary>
    public void Hold(TrackedFinding finding, Holds hold, bool isHeld, string? by = null, string? why = null)
    {
        if (finding.Holds.HasFlag(hold) == isHeld)
            return;
        finding.Holds ^= hold;
        Touch(finding);
        // Every check settles whenever a watch begins: the lines of the view say so for all that never had anything to tell.
        if (hold == Holds.Settling && finding.Episode == 0)
            return;
        var word = Words.Of(hold);
        Log(finding, isHeld ? LedgerEventKind.HoldBegan : LedgerEventKind.HoldEnded, by, why is null ? word : $"{word}: {why}");
    }

    /// <summary>Whether an expected change permits the last drift of a finding.</summary>
    public bool Permits(TrackedFinding finding)
    {
        for (var i = 0; i < Windows.Count; i++)
        {
            if (Windows[i].Permits(finding.Key, finding.LastDrift.Live))
                return true;
        }

        return false;
    }

    /// <summary>Whether a cue gives a check time to settle, whatever its value.</summary>
    public bool Settles(string key)
    {
        for (var i = 0; i < Windows.Count; i++)
        {
            if (Windows[i].IsSettling && Windows[i].Names(key))
                return true;
        }

        return false;
    }

    /// <summary>When time alone next changes a finding; those that it never does are forgotten.</summary>
    public TimeSpan FindingsDue()
    {
        var due = TimeSpan.MaxValue;
        for (var i = _busy.Count - 1; i >= 0; i--)
        {
            var finding = _busy[i];
            var own = finding.Due;
            if (own < due)
                due = own;
            if (own != TimeSpan.MaxValue)
                continue;
            finding.IsBusy = false;
            _busy[i] = _busy[^1];
            _busy.RemoveAt(_busy.Count - 1);
        }

        return due;
    }

    public static int ByOrdinalKey(TrackedFinding one, TrackedFinding other) => string.CompareOrdinal(one.Key, other.Key);
}

/// <summary>One sink.</summary>
internal sealed class SinkState(LedgerSink sink)
{
    public string Name { get; } = sink.Name;

    /// <summary>What matters less is not told there.</summary>
    public Severity Least { get; } = sink.Least;

    public bool IsUp { get; set; } = true;

    /// <summary>When it is told at the latest of what came and went; null when there is nothing of the kind.</summary>
    public TimeSpan? DigestDue { get; set; }
}
