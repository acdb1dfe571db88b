using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>
/// Alerts for one sink that could not be recorded, in memory, in order. When there are too many, one that a later one of the same finding
/// supersedes is thrown away; where there is none, the oldest. A digest is of many findings, so none supersedes another. Handed in by the writer, taken by the sink's runner.
/// </summary>
internal sealed class UnrecordedAlerts(int most)
{
    private readonly Lock _gate = new();
    private readonly LinkedList<(Alert Alert, int Gap)> _waiting = [];
    private volatile bool _hasLost = true;

    public int Count
    {
        get
        {
            lock (_gate)
                return _waiting.Count;
        }
    }

    /// <summary>How many were thrown away so far.</summary>
    public long ThrownAway { get; private set; }

    /// <summary>
    /// Whether the sink may never hear of something: set when one is thrown away, here or in the outbox, since a digest tells of many findings. At the
    /// start an earlier run may have lost what was in its memory.
    /// </summary>
    public bool HasLost
    {
        get => _hasLost;
        set => _hasLost = value;
    }

    public void Add(Alert alert)
    {
        lock (_gate)
        {
            _waiting.AddLast((alert, 0));
            if (_waiting.Count > most)
                ThrowOneAway();
        }
    }

    /// <summary>The oldest; null when there is none.</summary>
    public (Alert Alert, int Gap)? Oldest
    {
        get
        {
            lock (_gate)
                return _waiting.First?.Value;
        }
    }

    /// <summary>Takes one away.</summary>
    public void Remove(Alert alert)
    {
        lock (_gate)
        {
            for (var node = _waiting.First; node is not null; node = node.Next)
            {
                if (!ReferenceEquals(node.Value.Alert, alert))
                    continue;
                _waiting.Remove(node);
                return;
            }
        }
    }

    /// <summary>Takes away those that were recorded after all.</summary>
    public void RemoveRecorded(string id)
    {
        lock (_gate)
        {
            for (var node = _waiting.First; node is not null; node = node.Next)
            {
                if (!string.Equals(node.Value.Alert.Told.Id, id, StringComparison.Ordinal))
                    continue;
                _waiting.Remove(node);
                return;
            }
        }
    }

    /// <summary>Whether any of them tells an earlier change of something that this tells, so that it must go first.</summary>
    public bool MustPrecede(Announcement later)
    {
        lock (_gate)
            return _waiting.Any(one => Told(one.Alert.Told).Any(early => Told(later).Any(late => string.Equals(early.Key, late.Key, StringComparison.Ordinal) && early.Transition < late.Transition)));
    }

    private static IEnumerable<(string Key, int Transition)> Told(Announcement announcement) =>
        announcement.Digest is not { } lines
            ? [(announcement.Key, announcement.Level.Transition)]
            : lines.Where(static line => line.Passed == 0).Select(static line => (line.Key, line.Level.Transition)).Prepend((announcement.Key, announcement.Level.Transition));

    private void ThrowOneAway()
    {
        (_hasLost, ThrownAway) = (true, ThrownAway + 1);
        for (var node = _waiting.First; node is not null; node = node.Next)
        {
            if (Successor(node) is not { } successor)
                continue;
            successor.Value = (successor.Value.Alert, successor.Value.Gap + node.Value.Gap + 1);
            _waiting.Remove(node);
            return;
        }

        _waiting.RemoveFirst();
    }

    private static LinkedListNode<(Alert Alert, int Gap)>? Successor(LinkedListNode<(Alert Alert, int Gap)> node)
    {
        if (node.Value.Alert.Told.Digest is not null)
            return null;
        for (var later = node.Next; later is not null; later = later.Next)
        {
            if (string.Equals(later.Value.Alert.Told.Key, node.Value.Alert.Told.Key, StringComparison.Ordinal))
                return later;
        }

        return null;
    }
}
