using StateWatch.Core.Links;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>
/// Keeps a watch apart from its recording: what fails in writing it down ends the recording and nothing else, and once nothing more is recorded nothing is
/// worked out for it any more.
/// </summary>
/// <param name="target">Where the recording goes.</param>
/// <param name="tape">Who writes it down; disposed at the end.</param>
internal sealed class GuardedTape(BackgroundTarget target, IWatchTape tape) : IWatchTape, IDisposable
{
    /// <inheritdoc/>
    public void WatchBegan(long timestamp, DateTimeOffset wall) => Write((timestamp, wall), static (tape, at) => tape.WatchBegan(at.timestamp, at.wall));

    /// <inheritdoc/>
    public void BatchBegan(long timestamp, DateTimeOffset wall) => Write((timestamp, wall), static (tape, at) => tape.BatchBegan(at.timestamp, at.wall));

    /// <inheritdoc/>
    public void Order(WatchOrder order) => Write(order, static (tape, order) => tape.Order(order));

    /// <inheritdoc/>
    public void Datagram(ReadOnlySpan<byte> datagram, long receivedAt) => Write(new Received(datagram, receivedAt), static (tape, one) => tape.Datagram(one.Bytes, one.At));

    /// <inheritdoc/>
    public void Counted(in LinkCounters counters) => Write(counters, static (tape, counters) => tape.Counted(counters));

    /// <inheritdoc/>
    public void BatchEnded(long timestamp, DateTimeOffset wall) => Write((timestamp, wall), static (tape, at) => tape.BatchEnded(at.timestamp, at.wall));

    /// <inheritdoc/>
    public void Taken(WatchOutput output) => Write(output, static (tape, output) => tape.Taken(output));

    /// <inheritdoc/>
    public void WatchEnded(long timestamp, DateTimeOffset wall, string by) => Write((timestamp, wall, by), static (tape, end) => tape.WatchEnded(end.timestamp, end.wall, end.by));

    /// <summary>Ends the recording.</summary>
    public void Dispose() => (tape as IDisposable)?.Dispose();

    private void Write<T>(T what, Action<IWatchTape, T> how)
        where T : allows ref struct
    {
        if (target.IsOver)
            return;
        try
        {
            how(tape, what);
        }
#pragma warning disable CA1031 // A watch goes on that cannot be written down.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            target.GiveUp(RecordingStop.Faulty(problem));
        }
    }

    private readonly ref struct Received(ReadOnlySpan<byte> bytes, long at)
    {
        public readonly ReadOnlySpan<byte> Bytes = bytes;

        public readonly long At = at;
    }
}
