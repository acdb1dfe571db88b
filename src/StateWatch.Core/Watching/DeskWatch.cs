using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>
/// The watch of one desk, without threads, files or sockets: follows it, judges it, lets its findings live, takes orders. One thread calls
/// <see cref="Next"/> again and again and takes what came about; anybody may give orders and look at the status.
/// </summary>
/// <remarks>
/// Everything in a batch is decided at one of two moments, before and after the link was listened to. All outputs wait until they are taken, so a
/// writer that is slow makes them longer, never the loop slower.
/// </remarks>
public sealed partial class DeskWatch : IDisposable
{
    private static readonly TimeSpan BetweenJournals = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan BetweenStatuses = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BetweenSamples = TimeSpan.FromMinutes(1);

    // The order that begins the next phase ends what was put aside too, at the moment in which all is judged anew; the clock does where no order comes.
    private static readonly TimeSpan OrderWithin = TimeSpan.FromMinutes(1);

    private readonly ConcurrentQueue<WatchOrder> _orders = new();
    private readonly SteppedLink _link;
    private readonly DeskFollower _follower;
    private readonly FindingLedger _ledger;
    private readonly WatchWords _words;
    private readonly LedgerOutlet _outlet;
    private readonly SettingJournal _journal;
    private readonly List<SettingChange> _changes = [];
    private readonly List<ShowEvent> _happenings = [];
    private readonly List<CoverageSample> _samples = [];
    private readonly Dictionary<string, int> _checkOf = new(StringComparer.Ordinal);
    private WatchedPlan _plan;
    private ShowSchedule? _schedule;
    private FollowedAudit _followed;
    private AuditReadings _readings;
    private ShowStanding _standing;
    private DeskStatus _status;
    private long _ledgerSession;
    private FollowEvent _lostBy = FollowEvent.DeskSilent;
    private TimeSpan _nextJournal;
    private TimeSpan _nextStatus;
    private TimeSpan _nextSample;

    /// <summary>Prepares a watch.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="plan">The plan; it has no faults.</param>
    /// <param name="reader">The link. Its clock rules everything.</param>
    /// <param name="sinks">Those who are told.</param>
    /// <param name="stored">What was stored of the desk, or null.</param>
    /// <param name="phase">The phase to begin with; null for the one that was stored, or that the plan says for sweeps.</param>
    /// <param name="rules">The rules; null for all there are.</param>
    /// <exception cref="ArgumentException">Two sinks have one name.</exception>
    public DeskWatch(string desk, WatchedPlan plan, IDeskReader reader, IReadOnlyList<LedgerSink> sinks, StoredDesk? stored, Phase? phase = null, IReadOnlyList<IAuditRule>? rules = null)
    {
        (Desk, _plan, _schedule, _rules) = (desk, plan, ShowSchedule.Of(plan.Document), rules);
        _link = new SteppedLink(reader);
        var now = _link.Now;
        _standing = Begin(stored?.Standing, phase, now);
        Happened(now, ShowEventKind.WatchBegan, $"{_standing.Show}, plan {plan.Fingerprint[..Math.Min(12, plan.Fingerprint.Length)]}", null);
        GoOn(stored?.Standing, now);
        var audit = NewAudit();
        var state = new DeskState(plan.Profile);
        _follower = new DeskFollower(plan.Profile, state, _link, audit.Inputs);
        _followed = new FollowedAudit(_follower, audit);
        _journal = new SettingJournal(plan.Profile.Settings.Count);
        _words = new WatchWords(stored?.Words);
        LedgerOutlet.ForgetPast(_words, stored?.Ledger.Findings ?? []);
        var checks = AuditReadings.ChecksOf(audit, state);
        _ledger = stored is null ? new FindingLedger(desk, checks, sinks, now) : FindingLedger.Restore(stored.Ledger, checks, sinks, now);
        _outlet = new LedgerOutlet(_ledger, _words, WordsOf);
        _readings = new AuditReadings(audit, _ledger);
        Number(checks);
        _ledger.Start(now);
        EndShelvesWithTheEvent(now);
        (_nextJournal, _nextStatus, _nextSample) = (now.Clock, now.Clock, now.Clock + BetweenSamples);
        _status = WriteStatus(now);
    }

    /// <summary>site/desk.</summary>
    public string Desk { get; }

    /// <summary>How it stands, as of a second ago at the most; from any thread.</summary>
    public DeskStatus Status => Volatile.Read(ref _status);

    /// <summary>Called on the thread of <see cref="Next"/> after each batch in which something came in, with the time from its first datagram to the decision.</summary>
    public Action<TimeSpan>? Decided { get; set; }

    /// <summary>The plan that it goes by.</summary>
    public WatchedPlan Plan => _plan;

    /// <summary>Writes everything down by which it decides, from the next batch on; null for nobody. To play it again it must be there before the first.</summary>
    public IWatchTape? Tape
    {
        get => _link.Tape;
        set
        {
            _link.Tape = value;
            value?.WatchBegan(_link.Clock.GetTimestamp(), _link.Now.Wall);
        }
    }

    /// <summary>Gives an order, from any thread; it is taken in the next batch.</summary>
    public void Order(WatchOrder order) => _orders.Enqueue(order);

    /// <summary>One batch: takes orders, waits for the desk for so long at the most, judges, lets time pass.</summary>
    /// <param name="atMost">How long to wait when nothing comes in and nothing is due; orders wait as long.</param>
    public void Next(TimeSpan atMost)
    {
        _link.Step();
        var now = _link.Now;
        Tape?.BatchBegan(_link.Clock.GetTimestamp(), now.Wall);
        TakeOrders(now);
        var wait = now.Clock + atMost;
        if (_ledger.NextDue is { } due && due < wait)
            wait = due > now.Clock ? due : now.Clock;
        _followed.Next(_link.TimestampOf(wait), _plan.Document.DayOf(now.Wall), judgesHalfRead: _ledger.IsViewFresh);
        now = _link.Now;
        _journal.Note(_follower.Batch.Changed);
        HandIn(now);
        _ledger.Advance(now);
        _outlet.Collect(_standing);
        if (_link.FirstReceived != 0)
            Decided?.Invoke(_link.TrueClock.GetElapsedTime(_link.FirstReceived));
        if (now.Clock >= _nextJournal)
            WriteJournal(now);
        if (now.Clock >= _nextStatus)
            (_nextStatus, _status) = (now.Clock + BetweenStatuses, WriteStatus(now));
        Tape?.BatchEnded(_link.Clock.GetTimestamp(), now.Wall);
    }

    /// <summary>
    /// What came about since it was last taken, of the moment of the last batch; null when there is nothing to store. On the thread of
    /// <see cref="Next"/>. Take it only when whoever stores has room: until then it grows.
    /// </summary>
    public WatchOutput? Take()
    {
        // After most batches there is nothing, and a watch allocates nothing then.
        if (_outlet.IsEmpty && _changes.Count + _happenings.Count + _samples.Count == 0)
            return null;
        var output = _outlet.Take(_standing, Desk) with
        {
            Changes = [.. _changes],
            Happenings = [.. _happenings],
            Coverage = [.. _samples],
        };
        if (output.IsEmpty)
            return null;
        Tape?.Taken(output);
        _changes.Clear();
        _happenings.Clear();
        _samples.Clear();
        return output;
    }

    /// <summary>Everything that is remembered, for a watch that goes on in place of this one; what was not taken is no part of it.</summary>
    public StoredDesk Export()
    {
        var record = _ledger.Export(_link.Now);
        _outlet.Collect(_standing);
        var words = new Dictionary<string, AlertWords>(StringComparer.Ordinal);
        foreach (var finding in record.Findings)
        {
            if (_words.Last(finding.Key) is { } said)
                words[finding.Key] = said;
        }

        // Quiet ones are nearly all, and are what a watch begins with anyway.
        return new StoredDesk(record with { Findings = [.. record.Findings.Where(static finding => !finding.IsQuiet)] }, _standing, words);
    }

    /// <summary>Ends it in order: the last of the journal is in what is taken next. On the thread of <see cref="Next"/>.</summary>
    /// <param name="by">Who or what ends it.</param>
    public void End(string by)
    {
        _link.Step();
        var now = _link.Now;
        Tape?.WatchEnded(_link.Clock.GetTimestamp(), now.Wall, by);
        _ledger.Advance(now);
        _outlet.Collect(_standing);
        WriteJournal(now);
        Happened(now, ShowEventKind.WatchEnded, _standing.Show, by);
    }

    /// <summary>Closes the link.</summary>
    public void Dispose() => _link.Dispose();

    private void WriteJournal(Moment now)
    {
        _nextJournal = now.Clock + BetweenJournals;
        _journal.Write(_follower.State, _followed.Audit.Plan, now.Wall, _changes);
        if (now.Clock < _nextSample)
            return;
        _nextSample = now.Clock + BetweenSamples;
        _samples.Add(Sample(now));
    }

    private void Happened(Moment now, ShowEventKind kind, string text, string? by) => _happenings.Add(new ShowEvent(now.Wall, _standing.Show, _standing.Phase, kind, text, by));
}
