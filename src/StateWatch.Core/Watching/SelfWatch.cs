using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>
/// The watch of the watch itself: what goes wrong in it becomes findings like any others, under <c>site/statewatch</c>. They are part of no bulk change
/// and cannot be put aside. Any thread may use it.
/// </summary>
public sealed class SelfWatch : ISelfReport
{
    /// <summary>How long after a start what stood before it is taken to stand still: a sink counts as failing after a minute, and must be able to say so before.</summary>
    public static readonly TimeSpan Grace = TimeSpan.FromSeconds(90);

    private readonly Lock _lock = new();
    private readonly TimeProvider _clock;
    private readonly FindingLedger _ledger;
    private readonly WatchWords _words;
    private readonly List<WatchedCheck> _checks;
    private readonly Dictionary<string, int> _checkOf = new(StringComparer.Ordinal);
    private readonly LedgerOutlet _outlet;
    private readonly HashSet<int> _unconfirmed;
    private readonly DateTimeOffset _since;
    private readonly TimeSpan _began;

    /// <summary>Begins it, with what is stored or with nothing.</summary>
    /// <param name="site">The site.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="sinks">Those who are told.</param>
    /// <param name="stored">What was stored of it. What is not reported anew within <see cref="Grace"/> is over.</param>
    public SelfWatch(string site, TimeProvider clock, IReadOnlyList<LedgerSink> sinks, StoredDesk? stored)
    {
        (Desk, _clock, _since) = (DeskKey.OwnOf(site), clock, clock.GetUtcNow());
        _words = new WatchWords(stored?.Words);
        LedgerOutlet.ForgetPast(_words, stored?.Ledger.Findings ?? []);
        _checks = [.. (stored?.Ledger.Findings ?? []).Where(record => !record.IsRetired && record.Check.StandsAlone).Select(static record => record.Check)];
        for (var check = 0; check < _checks.Count; check++)
            _checkOf[_checks[check].Id] = check;
        var now = Now;
        _ledger = stored is null ? new FindingLedger(Desk, _checks, sinks, now) : FindingLedger.Restore(stored.Ledger, _checks, sinks, now);
        _outlet = new LedgerOutlet(_ledger, _words, (key, _, _) => _words.Last(key));
        _ledger.Start(now);
        _ledger.LinkUp(1, now);
        // Nobody knows yet whether it still is as it was: it stays so until somebody says.
        _unconfirmed = [.. Enumerable.Range(0, _checks.Count)];
        _began = now.Clock;
        _ledger.SnapshotDone(1, now);
        _outlet.Collect(Standing);
    }

    /// <summary>site/statewatch.</summary>
    public string Desk { get; }

    private Moment Now => new(_clock.GetElapsedTime(0), _clock.GetUtcNow());

    private ShowStanding Standing => new("the watch itself", Phase.Show, null, _since, "");

    /// <inheritdoc/>
    public void Report(string id, Severity severity, AlertWords words)
    {
        lock (_lock)
        {
            var now = Now;
            if (!_checkOf.TryGetValue(id, out var check))
                check = Add(id, now);
            _words.Remember($"{Desk}/{id}", words);
            _unconfirmed.Remove(check);
            _ledger.Observe(check, Reading.Drift(severity), now);
            Advance(now);
        }
    }

    /// <inheritdoc/>
    public void Clear(string id)
    {
        lock (_lock)
        {
            if (!_checkOf.TryGetValue(id, out var check))
                return;
            var now = Now;
            _unconfirmed.Remove(check);
            _ledger.Observe(check, Reading.Match, now);
            Advance(now);
        }
    }

    /// <summary>Takes an order: somebody knows, a sink has taken something.</summary>
    public OrderResult Order(WatchOrder order)
    {
        lock (_lock)
        {
            var now = Now;
            var result = Take(order, now);
            Advance(now);
            order.Reply?.Invoke(result);
            return result;
        }
    }

    /// <summary>Lets time pass; call it about once a second.</summary>
    public void Tick()
    {
        lock (_lock)
            Advance(Now);
    }

    /// <summary>What came about since it was last taken; null when there is nothing to store.</summary>
    public WatchOutput? Take()
    {
        lock (_lock)
        {
            var output = _outlet.Take(Standing, Desk);
            return output.IsEmpty ? null : output;
        }
    }

    /// <summary>How the watch itself stands, in the form of a desk; it has no plan of which anything could be seen.</summary>
    public DeskStatus Status => new(Desk, Now, Standing.Show, Standing.Phase, null, _since) { Following = FollowPhase.Following, Standing = Stands() };

    /// <summary>The findings that stand, by key.</summary>
    public IReadOnlyList<StoredFinding> Stands()
    {
        lock (_lock)
            return [.. _ledger.Standing().Select(record => new StoredFinding(record, _words.Last(record.Key)))];
    }

    private OrderResult Take(WatchOrder order, Moment now)
    {
        switch (order)
        {
            case AcknowledgeOrder acknowledge:
                return OrderTexts.Said(_ledger.Acknowledge(LedgerOutlet.KeyOf(Desk, acknowledge.Key), acknowledge.By, now), acknowledge.Key, "acknowledged for 20 min");
            case DeliveredOrder delivered:
                _ledger.Delivered(delivered.Announcement, now);
                return new OrderResult(CommandOutcome.Done, "");
            case SinkOrder sink:
                _ = sink.IsUp ? _ledger.SinkRecovered(sink.Sink, sink.HasLostWaiting, now) : _ledger.SinkLost(sink.Sink, now);
                return new OrderResult(CommandOutcome.Done, "");
            default:
                return new OrderResult(CommandOutcome.Protected, "what goes wrong in the watch itself can only be acknowledged");
        }
    }

    private int Add(string id, Moment now)
    {
        _checks.Add(new WatchedCheck(id, TimerClass.Immediate, IsProtected: true) { StandsAlone = true });
        _checkOf[id] = _checks.Count - 1;
        _ledger.Reload(_checks, now, CloseReason.Recovered);
        return _checks.Count - 1;
    }

    private void Advance(Moment now)
    {
        if (_unconfirmed.Count > 0 && now.Clock - _began >= Grace)
        {
            foreach (var check in _unconfirmed)
                _ledger.Observe(check, Reading.Match, now);
            _unconfirmed.Clear();
        }

        _ledger.Advance(now);
        _outlet.Collect(Standing);
    }
}
