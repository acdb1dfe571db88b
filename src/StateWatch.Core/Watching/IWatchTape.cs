namespace StateWatch.Core.Watching;

/// <summary>
/// Gets everything that a watch of one desk decides by, in order, so that it can be played again: both moments of each batch, what was ordered in it,
/// and what came in. On the thread of the watch.
/// </summary>
public interface IWatchTape
{
    /// <summary>A batch began.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    void BatchBegan(long timestamp, DateTimeOffset wall);

    /// <summary>An order was taken, at the moment at which the batch began.</summary>
    void Order(WatchOrder order);

    /// <summary>A datagram came in.</summary>
    void Datagram(ReadOnlySpan<byte> datagram, long receivedAt);

    /// <summary>The batch ended.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    void BatchEnded(long timestamp, DateTimeOffset wall);
}
