using StateWatch.Core.Findings;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>
/// Tells one sink what waits for it, in order, each until it was taken, and every 30 s that the watch is alive: one thing at a time, when it is called.
/// It has no task of its own and never waits for time; <see cref="SinkRunner"/> does.
/// </summary>
internal sealed class SinkTelling
{
    private readonly IAlertSink _sink;
    private readonly IWatchedDesks _desks;
    private readonly SinkNumbers _numbers;
    private readonly TimeProvider _clock;
    private readonly ILogger _log;
    private readonly long _started;
    private readonly SinkOutbox _outbox;
    private readonly SinkHealth _health;
    private readonly RetryPace _pace;
    private readonly RefusedAlerts _refused;
    private readonly List<Announcement> _taken = [];
    private volatile SinkStatus _state;
    private TimeSpan _nextTry;
    private TimeSpan _nextBeat;
    private TimeSpan _nextCount;
    private TimeSpan _noteAt = TimeSpan.MaxValue;
    private bool _isAskedToWait;
    private string _shown = "";
    private string? _historyFault;

    /// <summary>Prepares it.</summary>
    /// <param name="sink">Who is told.</param>
    /// <param name="history">Where its outbox is.</param>
    /// <param name="desks">The watched desks.</param>
    /// <param name="report">Takes what goes wrong.</param>
    /// <param name="clock">The time.</param>
    /// <param name="log">The log.</param>
    /// <param name="numbers">The numbers.</param>
    public SinkTelling(IAlertSink sink, IWatchHistory history, IWatchedDesks desks, ISelfReport report, TimeProvider clock, ILogger log, SinkNumbers numbers)
    {
        (_sink, _desks, _clock, _log, _numbers) = (sink, desks, clock, log, numbers);
        _started = clock.GetTimestamp();
        _outbox = new SinkOutbox(sink.Name, history, numbers);
        _health = new SinkHealth(sink, report, desks, numbers);
        _pace = new RetryPace(numbers);
        _refused = new RefusedAlerts(sink, report, numbers);
        _state = new SinkStatus(sink.Name, sink.Place);
    }

    /// <summary>How the sink stands; from any thread.</summary>
    public SinkStatus State => _state;

    /// <summary>What could not be recorded; from any thread.</summary>
    public UnrecordedAlerts Unrecorded => _outbox.Unrecorded;

    /// <summary>Whether something is left that is in memory only and may be taken at once.</summary>
    public bool HasToHurry => Unrecorded.Count > 0 && !_health.AlertsFail;

    private TimeSpan Now => _clock.GetElapsedTime(_started);

    /// <summary>Does the next thing that is due: one alert, or one round of beats.</summary>
    /// <returns>How long nothing more is due; zero when something is.</returns>
    public async ValueTask<TimeSpan> Step(CancellationToken cancel)
    {
        _health.Elapse(Now);
        if (_refused.IsDueAgain(Now))
            _outbox.Unrecorded.HasLost = true;
        if (Now >= _nextCount)
            Count();
        if (_state.IsStopped)
            return _numbers.LookEvery;
        if (_sink.ShowsState && !string.Equals(Shown(), _shown, StringComparison.Ordinal))
            BeatSoon();
        if (Now >= _nextBeat && !(_isAskedToWait && Now < _nextTry))
        {
            _nextBeat = Now + _numbers.BeatEvery;
            await Beat(cancel);
            if (_state.IsStopped)
                return _numbers.LookEvery;
        }

        var isDue = Now >= _nextTry;
        if (isDue && _outbox.Next() is { } next)
        {
            _isAskedToWait = false;
            await Send(next, cancel);
        }
        else
        {
            Rest(isDue);
            return Left();
        }

        return TimeSpan.Zero;
    }

    /// <summary>Writes into the history what was taken, and tells the desks.</summary>
    public void Note()
    {
        _noteAt = _outbox.Note() ? TimeSpan.MaxValue : Now + _numbers.LookEvery;
        foreach (var taken in _taken)
            _desks.Order(FindingKeys.DeskOf(taken.Key), new DeliveredOrder(taken));
        _taken.Clear();
        if (_outbox.Fault is { } fault && _historyFault is null)
            _log.HistoryFailed(_sink.Name, fault);
        _historyFault = _outbox.Fault;
    }

    private async Task Send(WaitingAlert next, CancellationToken cancel)
    {
        var delivery = await Try(limit => _sink.Send(next, limit), cancel);
        if (delivery.Outcome != DeliveryOutcome.Taken)
        {
            Fail(delivery, isBeat: false);
            if (delivery.Outcome == DeliveryOutcome.Refused && _refused.Refuse(next))
                PutAside(next);
            return;
        }

        var now = _clock.GetUtcNow();
        _pace.Succeed();
        TellRecovery(_health.TakeAlert);
        _outbox.Sent(next);
        _state = _state with { Delivered = _state.Delivered + 1, LastDelivered = now, LastTaken = now, IsUp = !_health.IsFailing, NextTry = NextTry() };
        _noteAt = Now + _numbers.NoteWithin < _noteAt ? Now + _numbers.NoteWithin : _noteAt;
        _taken.Add(next.Alert.Told);
        if (_sink.ShowsState || _health.BeatsFail)
            BeatSoon();
        if (_taken.Count >= _numbers.Batch || Now >= _noteAt)
            Note();
    }

    // The next one is tried at once: only if that is refused too does the pace go on.
    private void PutAside(WaitingAlert refused)
    {
        var (id, why) = (AlertPayload.IdOf(refused), _state.LastError ?? "");
        _log.PutAside(_sink.Name, _numbers.MostRefusals, why, id);
        _outbox.PutAside(refused);
        _refused.PutAside(id, why, Now);
        // What a digest tells of many findings may go one by one; a single alert would be refused again.
        _outbox.Unrecorded.HasLost |= refused.Alert.Told.Digest is not null;
        _nextTry = Now;
        Note();
    }

    private async Task Beat(CancellationToken cancel)
    {
        var statuses = _desks.Statuses;
        if (statuses.Count == 0)
            return;
        _shown = Shown();
        foreach (var status in statuses)
        {
            var delivery = await Try(limit => _sink.Beat(status, limit), cancel);
            if (delivery.Outcome != DeliveryOutcome.Taken)
            {
                Fail(delivery, isBeat: true);
                return;
            }
        }

        // Who takes beats again takes alerts again: what waits need not wait for its time.
        if (_health.BeatsFail)
            _nextTry = Now;
        TellRecovery(_health.TakeBeat);
        _state = _state with { LastTaken = _clock.GetUtcNow(), IsUp = !_health.IsFailing, NextTry = NextTry() };
    }

    private void BeatSoon()
    {
        if (_nextBeat > Now + _numbers.ShowWithin)
            _nextBeat = Now + _numbers.ShowWithin;
    }

    // What changes seldom and is to be seen at once.
    private string Shown() => string.Join('\n', _desks.Statuses.Select(static status => $"{status.Desk}/{status.Phase}/{status.Cue}/{status.Following}"));

    private async ValueTask<Delivery> Try(Func<CancellationToken, ValueTask<Delivery>> send, CancellationToken cancel)
    {
        using var limit = new CancellationTokenSource(_numbers.SendLimit, _clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancel);
        try
        {
            return await send(either.Token);
        }
        catch (OperationCanceledException) when (limit.IsCancellationRequested && !cancel.IsCancellationRequested)
        {
            return new Delivery(DeliveryOutcome.Retry, $"no answer within {_numbers.SendLimit.TotalSeconds:0} s");
        }
#pragma warning disable CA1031 // A sink that breaks is a sink that did not take it.
        catch (Exception problem) when (!cancel.IsCancellationRequested)
#pragma warning restore CA1031
        {
            return new Delivery(DeliveryOutcome.Retry, problem.Message);
        }
    }

    private void Fail(Delivery delivery, bool isBeat)
    {
        var why = delivery.Why ?? "it did not say why";
        var now = _clock.GetUtcNow();
        _state = _state with { IsUp = false, Failed = _state.Failed + 1, LastError = why, LastFailed = now };
        _outbox.Forget();
        if (delivery.Outcome == DeliveryOutcome.Stop)
        {
            _log.Stopped(_sink.Name, _sink.Place, why);
            _health.Stop(why);
            _state = _state with { IsStopped = true, NextTry = null };
            Note();
            return;
        }

        // A beat that fails puts off no alert: a receiver may have no use for beats.
        if (isBeat && delivery.After is { } after)
            _nextBeat = Now + (_pace.Within(after) is var asked && asked > _numbers.BeatEvery ? asked : _numbers.BeatEvery);
        else if (!isBeat)
            (_nextTry, _isAskedToWait) = (Now + _pace.Fail(delivery.After), delivery.After is not null);
        if (_health.Fail(isBeat, why, Now))
            _log.Failed(_sink.Name, _sink.Place, why, (isBeat ? _nextBeat : _nextTry) - Now);
        _state = _state with { NextTry = NextTry() };
        Note();
    }

    private DateTimeOffset? NextTry() =>
        _health.AlertsFail ? _clock.GetUtcNow() + (_nextTry - Now) : _health.BeatsFail ? _clock.GetUtcNow() + (_nextBeat - Now) : null;

    private void TellRecovery(Action take)
    {
        var wasFailing = _health.IsFailing;
        take();
        if (wasFailing && !_health.IsFailing)
            _log.Recovered(_sink.Name, _sink.Place);
    }

    private void Rest(bool isDue)
    {
        Note();
        if (!isDue || _outbox.Fault is not null)
            return;
        _pace.Succeed();
        // None is left whose delivery could fail.
        if (_health.AlertsFail)
            TellRecovery(_health.TakeAlert);
        _state = _state with { IsUp = !_health.IsFailing, NextTry = NextTry() };
        if (_state.Waiting > 0)
            Count();
        _health.Empty();
        if (!_outbox.Unrecorded.HasLost)
            return;
        _outbox.Unrecorded.HasLost = false;
        _health.MakeUpForLost();
    }

    private void Count()
    {
        _nextCount = Now + _numbers.NoteWithin;
        var thrown = _outbox.Thin();
        var all = _outbox.ThrownAway + _outbox.Unrecorded.ThrownAway;
        if (thrown > 0)
        {
            _outbox.Unrecorded.HasLost = true;
            _log.ThrewAway(_sink.Name, thrown);
        }

        if (all > _state.ThrownAway)
            _health.Overflow(all);
        _state = _state with { Waiting = _outbox.Waiting, Unrecorded = _outbox.Unrecorded.Count, ThrownAway = all };
    }

    private TimeSpan Left()
    {
        var now = Now;
        var due = now + _numbers.LookEvery;
        foreach (var next in (ReadOnlySpan<TimeSpan>)[_nextTry, _nextBeat, _noteAt, _health.TellAt ?? TimeSpan.MaxValue])
        {
            if (next > now && next < due)
                due = next;
        }

        return due - now;
    }
}
