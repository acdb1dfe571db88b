using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Everything that is watched here, and the watch's own ledger beside it; from any thread.</summary>
/// <param name="name">The site.</param>
/// <param name="desks">The desks.</param>
/// <param name="own">The watch's own ledger.</param>
internal sealed class WatchSite(string name, IReadOnlyList<WatchedDesk> desks, SelfWatch own) : IWatchedDesks
{
    private readonly Lock _recalling = new();
    private SelfWatch _own = own;

    /// <summary>The site.</summary>
    public string Name { get; } = name;

    /// <summary>The desks.</summary>
    public IReadOnlyList<WatchedDesk> Desks { get; } = desks;

    /// <summary>All loops.</summary>
    public IReadOnlyList<DeskLoop> Loops { get; } = [.. desks.Select(static desk => desk.Loop)];

    /// <summary>The watch's own ledger.</summary>
    public SelfWatch Own => Volatile.Read(ref _own);

    /// <summary>What stands, at each desk and in the watch itself.</summary>
    public IEnumerable<(string Desk, StoredFinding Finding)> Standing =>
        Statuses.SelectMany(static status => status.Standing.Select(finding => (status.Desk, finding)));

    /// <summary>How each desk stands that has turned, and the watch itself.</summary>
    public IReadOnlyList<DeskStatus> Statuses => [.. Loops.Select(static loop => loop.StatusNow).OfType<DeskStatus>(), Own.Status];

    /// <summary>What came about in the watch's own ledger since it was last taken, or null.</summary>
    public WatchOutput? TakeOwn()
    {
        lock (_recalling)
            return _own.Take();
    }

    /// <summary>What is stored of the watch's own ledger could be read after all: another one goes on from there.</summary>
    /// <param name="slot">Where its outputs go.</param>
    /// <param name="stored">What is stored, or null.</param>
    /// <param name="open">Begins a ledger from it, and has everything reported that stands.</param>
    public void RecallOwn(OutputSlot slot, StoredDesk? stored, Func<StoredDesk, SelfWatch> open)
    {
        lock (_recalling)
        {
            slot.Put(_own.Take());
            slot.Recall(stored);
            if (stored is not null)
                Volatile.Write(ref _own, open(stored));
        }
    }

    public void Order(string desk, WatchOrder order)
    {
        if (string.Equals(desk, Own.Desk, StringComparison.Ordinal))
            _ = Own.Order(order);
        else
            Loops.FirstOrDefault(loop => string.Equals(loop.Desk, desk, StringComparison.Ordinal))?.Order(order);
    }

    public void OrderAll(WatchOrder order)
    {
        _ = Own.Order(order);
        foreach (var loop in Loops)
            loop.Order(order);
    }
}
