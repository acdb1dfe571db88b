using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Everything that is watched here, and the watch's own ledger beside it; from any thread.</summary>
/// <param name="name">The site.</param>
/// <param name="desks">The desks.</param>
/// <param name="own">The loop of the watch's own ledger, or null.</param>
internal sealed class WatchSite(string name, IReadOnlyList<WatchedDesk> desks, DeskLoop? own) : IWatchedDesks
{
    /// <summary>The site.</summary>
    public string Name { get; } = name;

    /// <summary>The desks.</summary>
    public IReadOnlyList<WatchedDesk> Desks { get; } = desks;

    /// <summary>All loops.</summary>
    public IReadOnlyList<DeskLoop> Loops { get; } = own is null ? [.. desks.Select(static desk => desk.Loop)] : [.. desks.Select(static desk => desk.Loop), own];

    /// <summary>The watch's own ledger, or null.</summary>
    public DeskLoop? Own { get; } = own;

    /// <summary>How each stands that has turned; the watch's own ledger is one of them.</summary>
    public IReadOnlyList<DeskStatus> Statuses => [.. Loops.Select(static loop => loop.Status).OfType<DeskStatus>()];

    public void Order(string desk, WatchOrder order) => Loops.FirstOrDefault(loop => string.Equals(loop.Desk, desk, StringComparison.Ordinal))?.Order(order);

    public void OrderAll(WatchOrder order)
    {
        foreach (var loop in Loops)
            loop.Order(order);
    }
}
