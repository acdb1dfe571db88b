using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Orders that wait for a loop; from any thread. While no watch can be begun they would pile up, so that of phases and cues which nobody says in person only the last is kept: a
/// night of messages must not be lived through once more when the desk is back.
/// </summary>
internal sealed class WaitingOrders
{
    private readonly Lock _gate = new();
    private readonly LinkedList<WatchOrder> _orders = [];

    /// <summary>Adds one.</summary>
    public void Add(WatchOrder order)
    {
        lock (_gate)
        {
            if (IsAutomatic(order))
                RemoveSuperseded(order);
            _orders.AddLast(order);
        }
    }

    /// <summary>Takes the oldest; null when none waits.</summary>
    public WatchOrder? Take()
    {
        lock (_gate)
        {
            if (_orders.First is not { } first)
                return null;
            _orders.RemoveFirst();
            return first.Value;
        }
    }

    // A phase ends every cue before it; a cue ends the one before it.
    private void RemoveSuperseded(WatchOrder by)
    {
        for (var node = _orders.First; node is not null;)
        {
            var next = node.Next;
            if (IsAutomatic(node.Value) && (by is PhaseOrder || node.Value is CueOrder))
                _orders.Remove(node);
            node = next;
        }
    }

    private static bool IsAutomatic(WatchOrder order) => order is PhaseOrder or CueOrder && order.By is MessageOrders.By or ScheduledChange.By;
}
