namespace StateWatch.Core.Findings;

/// <summary>
/// The life of every finding of one desk: when it is raised, held, told and cleared. It knows no clock: each call says what moment it is, and time that
/// was passed over is caught up with first, step by step, so that it does not matter how often it is called. What was handed in at one moment is told
/// when time moves on or <see cref="Advance"/> is called. Used by one thread at a time; allocates only where something changes.
/// </summary>
public sealed partial class FindingLedger
{
    private readonly LedgerBook _book;
    private readonly Conditions _conditions;
    private readonly Damping _damping;
    private readonly BulkChange _bulk;
    private readonly DeskView _view;
    private readonly Telling _telling;
    private readonly List<TrackedFinding> _due = [];
    private DateTimeOffset? _eventEnds;

    /// <summary>An empty ledger. Call <see cref="Start"/> next.</summary>
    /// <param name="desk">site/desk: the first part of every key.</param>
    /// <param name="checks">What is watched; it goes by its number in this list.</param>
    /// <param name="sinks">Those who are told.</param>
    /// <param name="now">The moment.</param>
    /// <exception cref="ArgumentException">Two checks have one id, or two sinks one name.</exception>
    public FindingLedger(string desk, IReadOnlyList<WatchedCheck> checks, IReadOnlyList<LedgerSink> sinks, Moment now)
    {
        if (sinks.DistinctBy(static sink => sink.Name, StringComparer.Ordinal).Count() != sinks.Count)
            throw new ArgumentException("two sinks have one name", nameof(sinks));
        _book = new LedgerBook(desk) { Now = now };
        foreach (var sink in sinks)
            _book.Sinks.Add(new SinkState(sink));
        _damping = new Damping(_book);
        _conditions = new Conditions(_book, _damping);
        _bulk = new BulkChange(_book, _conditions);
        _conditions.Drifted = _bulk.Add;
        _view = new DeskView(_book, _conditions);
        _telling = new Telling(_book, _bulk);
        SetChecks(checks);
    }

    /// <summary>The moment up to which everything was lived through.</summary>
    public Moment Now => _book.Now;

    /// <summary>When time alone next changes something, on the monotonic clock; null when it never does. Call <see cref="Advance"/> then.</summary>
    public TimeSpan? NextDue => Due() is var due && due == TimeSpan.MaxValue ? null : due;

    /// <summary>Whether the watch has just started and has not seen the desk whole.</summary>
    public bool IsSettling => _view.IsSettling;

    /// <summary>Whether what checks say counts; else everything stays as it was.</summary>
    public bool IsViewFresh => _view.Counts;

    /// <summary>The session that counts; 0 before the first.</summary>
    public long Session => _view.Session;

    /// <summary>When the last full read of the desk was done, on the monotonic clock.</summary>
    public TimeSpan? ReadAt => _view.ReadAt;

    /// <summary>What happened since the last <see cref="ClearOutputs"/>, in order.</summary>
    public IReadOnlyList<LedgerEvent> Events => _book.Events;

    /// <summary>What is to be told since the last <see cref="ClearOutputs"/>, in order; store it with the changed records, then send.</summary>
    public IReadOnlyList<Announcement> Announcements => _book.Announcements;

    /// <summary>Forgets what came out, once it is stored.</summary>
    public void ClearOutputs()
    {
        _book.Events.Clear();
        _book.Announcements.Clear();
    }

    /// <summary>Lets time pass and tells what came about.</summary>
    public void Advance(Moment now)
    {
        Live(NotBefore(now));
        Tell();
    }

    /// <summary>The watch begins, with what it remembers or with nothing: all is held until the desk was seen whole, for 30 s at most.</summary>
    public void Start(Moment now)
    {
        // What was gathered is judged as of then; what ended while we were away ends now, and is not told before the desk was looked at.
        _bulk.EndGather();
        _book.Now = NotBefore(now);
        _view.Start();
        Live(_book.Now);
    }

    /// <summary>A connection stands. What the one before said no longer counts, until <see cref="SnapshotDone"/>.</summary>
    /// <param name="session">Its number: above all before it. Anything else is ignored.</param>
    /// <param name="now">The moment.</param>
    /// <returns>Whether it counted.</returns>
    public bool LinkUp(long session, Moment now)
    {
        Reach(now);
        return _view.Link(session);
    }

    /// <summary>The connection of that session was lost, or could not be made. One from an older session is ignored.</summary>
    public bool LinkLost(long session, Moment now)
    {
        Reach(now);
        return _view.Break(session);
    }

    /// <summary>Messages were lost on a connection that stands: everything is read anew, as a new session.</summary>
    /// <param name="session">Number of the new session: above all before it. Anything else is ignored.</param>
    /// <param name="now">The moment.</param>
    public bool Gap(long session, Moment now)
    {
        Reach(now);
        return _view.Miss(session);
    }

    /// <summary>The desk was read whole in that session, and what every check says was handed in.</summary>
    public bool SnapshotDone(long session, Moment now)
    {
        Reach(now);
        return _view.Take(session);
    }

    /// <summary>Takes what a check says.</summary>
    /// <param name="check">Number of the check.</param>
    /// <param name="reading">What it says.</param>
    /// <param name="now">The moment.</param>
    public void Observe(int check, in Reading reading, Moment now)
    {
        Reach(now);
        var finding = _book.Checks[check];
        finding.Reading = reading;
        if (_view.Counts)
            _conditions.Read(finding, reading);
    }

    /// <summary>
    /// The plan or a rule changed. What has the same id goes on with its timers; what is gone is closed. What every check says must be handed in at the
    /// same moment: where that is a match, it is closed without delay, because the plan changed.
    /// </summary>
    /// <param name="checks">What is watched from now on.</param>
    /// <param name="now">The moment.</param>
    /// <param name="why">What is told of what is closed by it: another plan, or another phase or cue of the same plan.</param>
    /// <exception cref="ArgumentException">Two checks have one id.</exception>
    public void Reload(IReadOnlyList<WatchedCheck> checks, Moment now, CloseReason why = CloseReason.PlanChanged)
    {
        Reach(now);
        _book.JudgedAnew = why;
        SetChecks(checks);
    }

    /// <summary>The phase of the day changed. What every check says must be handed in at the same moment: where that is a match, it is closed without delay.</summary>
    public void PhaseChanged(Moment now)
    {
        Reach(now);
        _book.JudgedAnew = CloseReason.PhaseChanged;
    }

    private TimeSpan Due()
    {
        var due = _book.FindingsDue();
        foreach (var window in _book.Windows)
            due = window.Until < due ? window.Until : due;
        foreach (var sink in _book.Sinks)
        {
            // What is due at this moment is told at its end.
            if (sink is { IsUp: true, DigestDue: { } digest } && digest > _book.Now.Clock && digest < due)
                due = digest;
        }

        due = _view.Deadline is { } deadline && deadline < due ? deadline : due;
        due = _bulk.GatherEnds is { } gather && gather < due ? gather : due;
        return _bulk.WindowEnds is { } bulk && bulk < due ? bulk : due;
    }

    // Everything that time alone changes at a moment has happened before what is handed in at it.
    private void Reach(Moment now)
    {
        if (now.Clock > _book.Now.Clock)
            Live(now);
    }

    private Moment NotBefore(Moment now) => now.Clock < _book.Now.Clock ? new Moment(_book.Now.Clock, now.Wall) : now;

    // Lives through every moment up to now at which time alone changes something.
    private void Live(Moment now)
    {
        while (true)
        {
            var due = Due();
            if (due > _book.Now.Clock && now.Clock > _book.Now.Clock)
            {
                // Telling may set times too.
                Tell();
                due = Due();
            }

            if (due > now.Clock)
                break;
            if (due > _book.Now.Clock)
                _book.Now = now.At(due);
            Elapse();
        }

        _book.Now = now;
    }

    private void Elapse()
    {
        _view.Elapse();
        EndHolds();
        TakeDue();
        foreach (var finding in _due)
            _conditions.Elapse(finding);
        _bulk.Elapse();
        TakeDue();
        foreach (var finding in _due)
            _damping.Look(finding);
    }

    private void TakeDue()
    {
        _due.Clear();
        foreach (var finding in _book.Busy)
        {
            if (finding.Due <= _book.Now.Clock)
                _due.Add(finding);
        }

        _due.Sort(LedgerBook.ByOrdinalKey);
    }

    private void Tell()
    {
        if (_view.Counts)
        {
            _bulk.Weigh();
            _bulk.CloseWhenMostAreBack();
        }

        if (_book.Touched.Count > 0 || _telling.IsAnyDigestDue())
            _telling.Reconcile();
        _book.JudgedAnew = CloseReason.Recovered;
    }
}
