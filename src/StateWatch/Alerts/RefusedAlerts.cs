using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>
/// Alerts that a receiver refuses, each of which would hold up all that follow: counts how often one was refused in a row, tells of those that are put
/// aside, and says when to tell the sink again what it does not know, until an hour goes by in which nothing was refused.
/// </summary>
internal sealed class RefusedAlerts(IAlertSink sink, ISelfReport report, SinkNumbers numbers)
{
    private readonly string _finding = $"alert-refused:{sink.Name}";
    private (long Row, string Id)? _last;
    private int _times;
    private TimeSpan? _lookAt;
    private bool _hasNew;

    /// <summary>Notes that one was refused.</summary>
    /// <returns>Whether that was often enough.</returns>
    public bool Refuse(WaitingAlert alert)
    {
        var one = (alert.Row, AlertPayload.IdOf(alert));
        (_times, _last) = (one == _last ? _times + 1 : 1, one);
        return _times >= numbers.MostRefusals;
    }

    /// <summary>Tells that one was put aside.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="why">What the receiver answered.</param>
    /// <param name="now">The time.</param>
    public void PutAside(string id, string why, TimeSpan now)
    {
        (_last, _hasNew) = (null, true);
        _lookAt ??= now + numbers.RefusedAgainAfter;
        report.Report(_finding, Severity.Warning, new AlertWords("alert-refused",
            $"{sink.Name} ({sink.Place}) refuses {id}: {why}",
            "It was put aside so that what follows goes out; whoever relies on this sink has not heard of it. The history has it.",
            "See in the receiver's own log what it does not like; what it has not taken is sent again within the hour."));
    }

    /// <summary>Whether the time has come to tell the sink again what it does not know.</summary>
    public bool IsDueAgain(TimeSpan now)
    {
        if (_lookAt is not { } at || now < at)
            return false;
        var isDue = _hasNew;
        (_hasNew, _lookAt) = (false, isDue ? now + numbers.RefusedAgainAfter : null);
        if (!isDue)
            report.Clear(_finding);
        return isDue;
    }
}
