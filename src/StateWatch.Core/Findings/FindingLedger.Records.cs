namespace StateWatch.Core.Findings;

public sealed partial class FindingLedger
{
    /// <summary>Goes on from what was stored, as if nothing had happened. After a restart call <see cref="Start"/> next, at the same moment.</summary>
    /// <param name="record">What was stored. Records of keys that are not watched any more are closed.</param>
    /// <param name="checks">What is watched now.</param>
    /// <param name="sinks">Who is told now; a new one is told all that stands.</param>
    /// <param name="now">
    /// The moment. By the time of day it is known how long we were away: shelves, acknowledgements and windows went on meanwhile, timers of fresh evidence
    /// did not. A time of day before that of the record cannot tell; then shelves, acknowledgements and windows are over, since nobody knows whether they are.
    /// </param>
    /// <exception cref="ArgumentException">Two checks have one id, or two sinks one name.</exception>
    public static FindingLedger Restore(LedgerRecord record, IReadOnlyList<WatchedCheck> checks, IReadOnlyList<LedgerSink> sinks, Moment now)
    {
        var away = now.Wall - record.Ledger.At.Wall;
        var isKnown = away >= TimeSpan.Zero;
        away = isKnown ? away : TimeSpan.Zero;
        var ledger = new FindingLedger(record.Ledger.Desk, checks, sinks, new Moment(now.Clock - away, record.Ledger.At.Wall));
        ledger.Read(record, now.Clock - away - record.Ledger.At.Clock, now.Clock - record.Ledger.At.Clock, isKnown);
        return ledger;
    }

    /// <summary>Everything that is remembered, after <see cref="Advance"/>. What came out and was not cleared is no part of it.</summary>
    public LedgerRecord Export(Moment now)
    {
        Advance(now);
        return new LedgerRecord(State, [.. _book.ByKey.Values.OrderBy(static finding => finding.Key, StringComparer.Ordinal).Select(Write)]);
    }

    /// <summary>What is remembered besides the findings, at this moment.</summary>
    public LedgerState State => new(_book.Desk, _book.Now)
    {
        Session = _view.Session,
        IsLinked = _view.IsLinked,
        IsSettling = _view.IsSettling,
        IsViewFresh = _view.Counts,
        Deadline = _view.Deadline,
        ReadAt = _view.ReadAt,
        GatherEnds = _bulk.GatherEnds,
        BulkWindowEnds = _bulk.WindowEnds,
        Digests = _book.Digests,
        EventEnds = _eventEnds,
        Windows = [.. _book.Windows.Select(static open => open.Window)],
        DigestsDue = [.. _book.Sinks.Where(static sink => sink.DigestDue is not null).Select(static sink => new DigestTime(sink.Name, sink.DigestDue!.Value))],
        LostSinks = [.. _book.Sinks.Where(static sink => !sink.IsUp).Select(static sink => sink.Name)],
    };

    /// <summary>Whether <see cref="TakeChanged"/> has anything to look at.</summary>
    public bool HasChanged => _book.Changed.Count > 0;

    /// <summary>The findings that differ from when they were last taken, by key, after <see cref="Advance"/>; those that are quiet and were so are left out.</summary>
    public IReadOnlyList<FindingRecord> TakeChanged()
    {
        var changed = new List<FindingRecord>();
        _book.Changed.Sort(LedgerBook.ByOrdinalKey);
        foreach (var finding in _book.Changed)
        {
            finding.IsChanged = false;
            var record = Write(finding);
            if (!record.IsQuiet || finding.WasStored)
                changed.Add(record);
            finding.WasStored = !record.IsQuiet;
        }

        _book.Changed.Clear();
        return changed;
    }

    /// <summary>One finding, or null when no check has that key.</summary>
    public FindingRecord? Find(string key) => _book.ByKey.TryGetValue(key, out var finding) ? Write(finding) : null;

    /// <summary>The findings that something is to be told of, is held by more than the beginning, or was told and not cleared, by key.</summary>
    public IReadOnlyList<FindingRecord> Standing() =>
        [.. _book.ByKey.Values.Where(static finding => finding.Condition != Condition.Normal || finding.IsLatched || finding.Level.IsOpen || (finding.Holds & ~Holds.Settling) != Holds.None)
            .OrderBy(static finding => finding.Key, StringComparer.Ordinal).Select(Write)];

    private FindingRecord Write(TrackedFinding finding) => FindingRecords.Write(finding, _book);

    private void Read(LedgerRecord record, TimeSpan shift, TimeSpan freshShift, bool isTimeKnown)
    {
        var state = record.Ledger;
        (_view.Session, _view.IsLinked, _view.IsSettling, _view.Counts) = (state.Session, state.IsLinked, state.IsSettling, state.IsViewFresh);
        (_view.Deadline, _view.ReadAt) = (FindingRecords.Moved(state.Deadline, shift), FindingRecords.Moved(state.ReadAt, shift));
        (_bulk.GatherEnds, _bulk.WindowEnds) = (FindingRecords.Moved(state.GatherEnds, shift), FindingRecords.Moved(state.BulkWindowEnds, shift));
        (_book.Digests, _eventEnds) = (state.Digests, state.EventEnds);
        foreach (var window in isTimeKnown ? state.Windows : [])
            _book.Windows.Add(new OpenWindow(window with { Until = FindingRecords.Moved(window.Until, shift) }));
        foreach (var sink in _book.Sinks)
            sink.IsUp = !state.LostSinks.Contains(sink.Name);
        foreach (var digest in state.DigestsDue)
        {
            if (NumberOf(digest.Sink) is >= 0 and var sink)
                _book.Sinks[sink].DigestDue = FindingRecords.Moved(digest.Due, shift);
        }

        foreach (var stored in record.Findings)
            Read(isTimeKnown ? stored : stored with { Shelf = null, OutOfService = null, Acknowledgement = null }, shift, freshShift);
        // What was stored as being on plan, or not at all, is not among the checks of a plan that changed meanwhile.
        _book.JudgedAnew = CloseReason.PlanChanged;
        foreach (var finding in _book.ByKey.Values.Where(static finding => finding.IsRetired).ToArray())
            Retire(finding);
        _book.JudgedAnew = CloseReason.Recovered;
        // Whether what settled still does nobody can know then: the rest of it is gathered, as at any end.
        JudgeExpected([.. isTimeKnown ? [] : state.Windows.Where(static window => window.IsSettling).SelectMany(static window => window.Changes).Select(static change => change.Key)]);
    }

    private void Read(FindingRecord stored, TimeSpan shift, TimeSpan freshShift)
    {
        var isWatched = _book.ByKey.TryGetValue(stored.Key, out var finding);
        if (!isWatched && stored.IsQuiet)
            return;
        finding ??= _book.Add(stored.Key, stored.Check, FindingOrigin.Check);
        FindingRecords.Read(stored, finding, _book, shift, freshShift);
        finding.IsRetired = !isWatched;
        finding.WasStored = true;
        if (finding.Holds.HasFlag(Holds.Inhibited))
            _bulk.Members.Add(finding);
        if (stored.IsRecent)
            _bulk.AddRecent(finding);
        // Told again only where something is wanted that is not known, such as to a sink that is new.
        _book.Touch(finding);
    }
}
