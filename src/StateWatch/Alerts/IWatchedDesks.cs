using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>The watched desks as sinks see them; from any thread.</summary>
internal interface IWatchedDesks
{
    /// <summary>How each desk stands.</summary>
    IReadOnlyList<DeskStatus> Statuses { get; }

    /// <summary>Gives an order to one desk; to nobody when it is not watched any more.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="order">The order.</param>
    void Order(string desk, WatchOrder order);

    /// <summary>Gives an order to every desk.</summary>
    void OrderAll(WatchOrder order);
}
