using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>
/// What waits for one sink, in order: the rows of its outbox, and what could not be recorded. It remembers what was taken until that is written, so
/// that a history that cannot be written makes nobody hear the same again and again.
/// </summary>
internal sealed class SinkOutbox(string sink, IWatchHistory history, SinkNumbers numbers)
{
    private const int MostRemembered = 4_096;

    private readonly UnrecordedAlerts _unrecorded = new(numbers.MostUnrecorded);
    private readonly Queue<WaitingAlert> _rows = new();
    private readonly HashSet<long> _unnoted = [];
    private readonly HashSet<long> _refused = [];
    private readonly HashSet<string> _sentUnrecorded = new(StringComparer.Ordinal);
    private readonly Queue<string> _sentOrder = new();
    private long _lastRow;
    private int _afterLastRow;

    /// <summary>Why the history could not be read or written the last time; null when it could.</summary>
    public string? Fault { get; private set; }

    public UnrecordedAlerts Unrecorded => _unrecorded;

    /// <summary>How much waits; what was last known when the history cannot be read.</summary>
    public int Waiting { get; private set; }

    /// <summary>How many were thrown away because too many waited.</summary>
    public long ThrownAway { get; private set; }

    /// <summary>What is to be sent next; null when nothing waits.</summary>
    public WaitingAlert? Next()
    {
        if (_rows.Count == 0)
            Fill();
        while (_rows.TryPeek(out var row))
        {
            var id = row.Alert.Told.Id;
            _unrecorded.RemoveRecorded(id);
            if (_sentUnrecorded.Remove(id))
            {
                _rows.Dequeue();
                _unnoted.Add(row.Row);
                continue;
            }

            if (!_unrecorded.MustPrecede(row.Alert.Told))
                return row;
            break;
        }

        return _unrecorded.Oldest is { } oldest ? new WaitingAlert(_lastRow, oldest.Alert, oldest.Gap) { Unrecorded = _afterLastRow + 1 } : null;
    }

    /// <summary>Notes that what <see cref="Next"/> gave was taken.</summary>
    public void Sent(WaitingAlert sent)
    {
        if (sent.Unrecorded > 0)
        {
            _afterLastRow = sent.Unrecorded;
            _unrecorded.Remove(sent.Alert);
            Remember(sent.Alert.Told.Id);
            return;
        }

        (_lastRow, _afterLastRow) = (sent.Row, 0);
        _unnoted.Add(sent.Row);
        if (_rows.TryPeek(out var first) && first.Row == sent.Row)
            _rows.Dequeue();
    }

    /// <summary>Notes that what <see cref="Next"/> gave will not be sent, because the receiver refuses it. To the desks it was never taken.</summary>
    public void PutAside(WaitingAlert refused)
    {
        if (refused.Unrecorded > 0)
            _unrecorded.Remove(refused.Alert);
        else
            _refused.Add(refused.Row);
        Forget();
    }

    /// <summary>Writes what was taken or refused into the history.</summary>
    /// <returns>Whether nothing is left to write.</returns>
    public bool Note()
    {
        if (Unnoted == 0)
            return true;
        try
        {
            if (_unnoted.Count > 0)
                history.Delivered(sink, [.. _unnoted.Order()]);
            _unnoted.Clear();
            if (_refused.Count > 0)
                history.Refused(sink, [.. _refused.Order()]);
            _refused.Clear();
            Fault = null;
            return true;
        }
        catch (HistoryException problem)
        {
            Fault = problem.Message;
            return false;
        }
    }

    /// <summary>Counts what waits, and throws superseded ones away when that is too much.</summary>
    /// <returns>How many were thrown away.</returns>
    public int Thin()
    {
        var thrown = 0;
        try
        {
            var waiting = history.CountWaiting(sink) - Unnoted;
            if (waiting > numbers.MostWaiting && Note())
            {
                thrown = history.Coalesce(sink, numbers.MostWaiting);
                _rows.Clear();
                waiting = history.CountWaiting(sink);
            }

            Waiting = Math.Max(0, waiting) + _unrecorded.Count;
            ThrownAway += thrown;
        }
        catch (HistoryException problem)
        {
            Fault = problem.Message;
        }

        return thrown;
    }

    /// <summary>Forgets what was read ahead, so that the next is what waits then.</summary>
    public void Forget() => _rows.Clear();

    private int Unnoted => _unnoted.Count + _refused.Count;

    private void Fill()
    {
        try
        {
            foreach (var row in history.Waiting(sink, numbers.Batch + Unnoted))
            {
                if (!_unnoted.Contains(row.Row) && !_refused.Contains(row.Row))
                    _rows.Enqueue(row);
            }

            if (Unnoted == 0)
                Fault = null;
        }
        catch (HistoryException problem)
        {
            Fault = problem.Message;
        }
    }

    private void Remember(string id)
    {
        if (!_sentUnrecorded.Add(id))
            return;
        _sentOrder.Enqueue(id);
        while (_sentOrder.Count > MostRemembered)
            _sentUnrecorded.Remove(_sentOrder.Dequeue());
    }
}
