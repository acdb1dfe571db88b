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
    private bool _alertsFail;
    private bool _beatsFail;
    private TimeSpan _failingSince;
    private string _why = "";

    /// <summary>Whether the last try failed.</summary>
    public bool IsFailing => _alertsFail || _beatsFail;

    /// <summary>Whether the last beat failed.</summary>
    public bool BeatsFail => _beatsFail;

    /// <summary>Whether that was told.</summary>
    public bool IsDown { get; private set; }

    /// <summary>When it will be told if it goes on; null when nothing fails or it was told.</summary>
    public TimeSpan? TellAt => IsFailing && !IsDown ? _failingSince + numbers.NotDeliveringAfter : null;

    public void Fail(bool isBeat, string why, TimeSpan now)
    {
        if (!IsFailing)
            _failingSince = now;
        (_alertsFail, _beatsFail, _why) = (_alertsFail || !isBeat, _beatsFail || isBeat, why);
        if (IsDown)
            TellDown();
    }

    /// <summary>Tells it when it has failed for too long.</summary>
    public void Elapse(TimeSpan now)
    {
        if (TellAt is not { } at || now < at)
            return;
        (IsDown, _mayBeTold) = (true, true);
        TellDown();
        desks.OrderAll(new SinkOrder(sink.Name, IsUp: false, HasLostWaiting: false));
    }

    /// <summary>The receiver is gone for good.</summary>
    public void Stop(string why)
    {
        (_alertsFail, IsDown, _mayBeTold) = (true, true, true);
        report.Report(_notDelivering, Severity.Warning, new AlertWords("sink-not-delivering",
            $"{sink.Name} ({sink.Place}) is told nothing any more: {why}",
            "Whoever relies on it hears of nothing.",
            $"Change or remove the sink {sink.Name} in the settings; settings are read when the watch starts, so restart it then."));
        desks.OrderAll(new SinkOrder(sink.Name, IsUp: false, HasLostWaiting: false));
    }

    public void TakeAlert()
    {
        (_alertsFail, _beatsFail) = (false, false);
        Recover();
    }

    public void TakeBeat()
    {
        _beatsFail = false;
        if (!_alertsFail)
            Recover();
    }

    /// <summary>Nothing is left whose delivery could fail.</summary>
    public void Rest()
    {
        if (!_alertsFail)
            return;
        _alertsFail = false;
        if (!_beatsFail)
            Recover();
    }

    /// <summary>Alerts were thrown away because too many waited.</summary>
    public void Overflow(long thrownAway)
    {
        _mayOverflowBeTold = true;
        report.Report(_overflow, Severity.Warning, new AlertWords("outbox-overflow",
            $"Too much waits for {sink.Name} ({sink.Place}): {thrownAway} alerts that later ones supersede were thrown away",
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
        if (_mayBeTold)
            report.Clear(_notDelivering);
        _mayBeTold = false;
        if (!IsDown)
            return;
        IsDown = false;
        desks.OrderAll(new SinkOrder(sink.Name, IsUp: true, HasLostWaiting: false));
    }

    private void TellDown() => report.Report(_notDelivering, Severity.Warning, new AlertWords("sink-not-delivering",
        $"{sink.Name} ({sink.Place}) has taken nothing for {(int)numbers.NotDeliveringAfter.TotalSeconds} s or longer: {_why}",
        "Whoever relies on it hears of nothing; everything waits and is sent when it takes things again.",
        $"See that the receiver runs and can be reached from here; settings of the sink {sink.Name}."));
}
