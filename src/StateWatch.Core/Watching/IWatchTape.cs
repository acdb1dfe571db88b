using StateWatch.Core.Links;

namespace StateWatch.Core.Watching;

/// <summary>
/// Gets everything that a watch of one desk decides by, in order, so that it can be played again: both moments of each batch, what was ordered in it,
/// what came in, and when what came about was taken. On the thread of the watch.
/// </summary>
public interface IWatchTape
{
    /// <summary>It was put in; of a whole recording this is the moment at which the watch was made.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    void WatchBegan(long timestamp, DateTimeOffset wall);

    /// <summary>A batch began.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    void BatchBegan(long timestamp, DateTimeOffset wall);

    /// <summary>An order was taken, at the moment at which the batch began.</summary>
    void Order(WatchOrder order);

    /// <summary>A datagram came in.</summary>
    void Datagram(ReadOnlySpan<byte> datagram, long receivedAt);

    /// <summary>The counters of the link were read for the status.</summary>
    void Counted(in LinkCounters counters);

    /// <summary>The batch ended.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    void BatchEnded(long timestamp, DateTimeOffset wall);

    /// <summary>What came about was taken: the words of what is over are forgotten then.</summary>
    void Taken(WatchOutput output);

    /// <summary>The watch ended in order; what came about is taken once more.</summary>
    /// <param name="timestamp">On the clock of the link.</param>
    /// <param name="wall">The time of day.</param>
    /// <param name="by">Who or what ended it.</param>
    void WatchEnded(long timestamp, DateTimeOffset wall, string by);
}
