using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>Somebody who is told: a log, a light, a phone. It sends; queue, order and retries are its runner's.</summary>
internal interface IAlertSink : IAsyncDisposable
{
    /// <summary>Its name in the settings.</summary>
    string Name { get; }

    /// <summary>Where it sends to, for messages; no secrets.</summary>
    string Place { get; }

    /// <summary>Whether it shows how desks stand, so that a beat follows soon whenever that changes.</summary>
    bool ShowsState => false;

    /// <summary>Sends one, and waits until it was taken.</summary>
    ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel);

    /// <summary>Tells it that the watch is alive and how a desk stands; called about every 30 s, for each desk. A sink that has no use for it says taken.</summary>
    ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel);
}

/// <summary>What became of a delivery.</summary>
internal enum DeliveryOutcome : byte
{
    /// <summary>It was taken.</summary>
    Taken,

    /// <summary>It was not; try again later.</summary>
    Retry,

    /// <summary>Nothing will ever be taken (the receiver is gone for good): stop sending until the watch is started anew.</summary>
    Stop,

    /// <summary>The receiver says that something is wrong with this one; others it may take.</summary>
    Refused,
}

/// <summary>What became of a delivery, and why.</summary>
/// <param name="Outcome">What.</param>
/// <param name="Why">One line for people; null when it was taken.</param>
/// <param name="After">Try again no sooner than after so long, where the receiver said so.</param>
internal readonly record struct Delivery(DeliveryOutcome Outcome, string? Why = null, TimeSpan? After = null)
{
    public static Delivery Taken { get; } = new(DeliveryOutcome.Taken);
}
