using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>Whether a sink takes things, and who is told when it does not: the watch's own findings, and the desks.</summary>
internal sealed class SinkHealth(IAlertSink sink, ISelfReport report, IWatchedDesks desks, SinkNumbers numbers)
{
    private readonly string _notDelivering = $"sink-not-delivering:{sink.Name}";
    private readonly string _overflow = $"outbox-overflow:{sink.Name}";
    // Findings of an earlier run may stand.
    private bool _mayBeTold = true;
    private bool _mayOverflowBeTold = true;
    private TimeSpan? _alertsFailSince;
    private TimeSpan? _beatsFailSince;
    private bool _isTold;
    private bool _isLost;
    private string _why = "";

    /// <summary>Whether the last alert or the last beat failed.</summary>
    public bool IsFailing => AlertsFail || BeatsFail;

    /// <summary>Whether the last alert failed.</summary>
    public bool AlertsFail => _alertsFailSince is not null;

    /// <summary>Whether the last beat failed.</summary>
    public bool BeatsFail => _beatsFailSince is not null;

    /// <summary>When there is something to tell if it goes on; null when nothing fails or all was told.</summary>
    public TimeSpan? TellAt
    {
        get
        {
            if (AlertsFail && !_isLost)
                return (_isTold ? _alertsFailSince : FailingSince) + numbers.NotDeliveringAfter;
            return _isTold ? null : FailingSince + numbers.NotDeliveringAfter;
        }
    }

    private TimeSpan? FailingSince => _alertsFailSince is { } alerts && _beatsFailSince is { } beats ? (alerts < beats ? alerts : beats) : _alertsFailSince ?? _beatsFailSince;

    /// <summary>Notes a failure.</summary>
    /// <returns>Whether it is the first of its kind.</returns>
    public bool Fail(bool isBeat, string why, TimeSpan now)
    {
        var isFirst = isBeat ? !BeatsFail : !AlertsFail;
        _why = why;
        if (isBeat)
            _beatsFailSince ??= now;
        else
            _alertsFailSince ??= now;
        if (_isTold)
            TellFailing();
        return isFirst;
    }

    /// <summary>
    /// Tells it when it has failed for too long. Only when alerts fail do the desks hand over nothing more: who refuses beats alone is told of everything,
    /// and would never be tried again if nothing came.
    /// </summary>
    public void Elapse(TimeSpan now)
    {
        if (!_isTold && now >= FailingSince + numbers.NotDeliveringAfter)
        {
            (_isTold, _mayBeTold) = (true, true);
            TellFailing();
        }

        if (_isLost || !(now >= _alertsFailSince + numbers.NotDeliveringAfter))
            return;
        _isLost = true;
        desks.OrderAll(new SinkOrder(sink.Name, IsUp: false, HasLostWaiting: false));
    }

    /// <summary>The receiver is gone for good.</summary>
    public void Stop(string why)
    {
        _alertsFailSince ??= TimeSpan.Zero;
        (_isTold, _isLost, _mayBeTold) = (true, true, true);
        report.Report(_notDelivering, Severity.Warning, new AlertWords("sink-not-delivering",
            $"{sink.Name} ({sink.Place}) is told nothing any more: {why}",
            "Whoever relies on it hears of nothing.",
            $"Change or remove the sink {sink.Name} in the settings; settings are read when the watch starts, so restart it then."));
        desks.OrderAll(new SinkOrder(sink.Name, IsUp: false, HasLostWaiting: false));
    }

    /// <summary>An alert was taken, or none is left whose delivery could fail.</summary>
    public void TakeAlert()
    {
        _alertsFailSince = null;
        Recover();
    }

    public void TakeBeat()
    {
        _beatsFailSince = null;
        Recover();
    }

    /// <summary>Alerts were thrown away because too many waited.</summary>
    public void Overflow(long thrownAway)
    {
        _mayOverflowBeTold = true;
        report.Report(_overflow, Severity.Warning, new AlertWords("outbox-overflow",
            $"Too much waits for {sink.Name} ({sink.Place}): {thrownAway} alerts were thrown away, those first that later ones supersede",
            "It will hear how things stand, but not all that happened meanwhile; the history has it.",
            $"See why {sink.Name} takes nothing, or too slowly; remove it from the settings if nobody needs it."));
    }

    /// <summary>Nothing waits.</summary>
    public void Empty()
    {
        if (!_mayOverflowBeTold)
            return;
        _mayOverflowBeTold = false;
        report.Clear(_overflow);
    }

    /// <summary>Nothing waits, but alerts in memory were lost or may have been: the desks hand over again what the sink has not taken.</summary>
    public void MakeUpForLost() => desks.OrderAll(new SinkOrder(sink.Name, IsUp: true, HasLostWaiting: true));

    private void Recover()
    {
        if (!AlertsFail && _isLost)
        {
            _isLost = false;
            desks.OrderAll(new SinkOrder(sink.Name, IsUp: true, HasLostWaiting: false));
        }

        if (IsFailing)
        {
            if (_isTold)
                TellFailing();
            return;
        }

        _isTold = false;
        if (_mayBeTold)
            report.Clear(_notDelivering);
        _mayBeTold = false;
    }

    private void TellFailing() => report.Report(_notDelivering, Severity.Warning, AlertsFail
        ? new AlertWords("sink-not-delivering",
            $"{sink.Name} ({sink.Place}) has taken nothing for {(int)numbers.NotDeliveringAfter.TotalSeconds} s or longer: {_why}",
            "Whoever relies on it hears of nothing; everything waits and is sent when it takes things again.",
            $"See that the receiver runs and can be reached from here; settings of the sink {sink.Name}.")
        : new AlertWords("sink-not-delivering",
            $"{sink.Name} ({sink.Place}) has taken no beats for {(int)numbers.NotDeliveringAfter.TotalSeconds} s or longer: {_why}",
            "Alerts are sent all the same; but whoever waits for its beats will think that the watch is gone.",
            $"See that the receiver runs, can be reached from here and takes beats; settings of the sink {sink.Name}."));
}
