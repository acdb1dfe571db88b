using System.Net;
using System.Net.Sockets;
using StateWatch.Simulator;

namespace StateWatch.Links;

/// <summary>Questions on their faulty way to a virtual desk, and answers on their way back to whoever asked. For one thread at a time.</summary>
internal sealed class FaultyExchange(WireFaults toDesk, WireFaults fromDesk, ulong seed, AddressFamily family)
{
    // Waiting in pieces keeps what the system takes as a number of microseconds far from its limits.
    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(100);

    private readonly FaultyWire _toDesk = new(toDesk, seed);
    private readonly FaultyWire _fromDesk = new(fromDesk, unchecked(seed + 0x9E37_79B9_7F4A_7C15));
    private readonly long _start = TimeProvider.System.GetTimestamp();

    // Whoever asked last takes the place of whoever asked longest ago; an answer still under way to the latter goes astray.
    private readonly SocketAddress[] _askers = [.. Enumerable.Range(0, 16).Select(_ => new SocketAddress(family))];
    private int _nextAsker;

    /// <summary>How long until something arrives anywhere.</summary>
    public TimeSpan UntilNext()
    {
        var next = Math.Min(_toDesk.NextDue, _fromDesk.NextDue);
        return next == long.MaxValue ? LongestWait : new TimeSpan(Math.Clamp(next - Now(), 0, LongestWait.Ticks));
    }

    /// <summary>Puts a question on its way.</summary>
    public void Take(ReadOnlySpan<byte> datagram, SocketAddress sender) => _toDesk.Send(datagram, Now(), NumberOf(sender));

    /// <summary>Lets the desk act on the questions that have arrived.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="keptAlive">Gets those who want to be sent changes.</param>
    public void DeliverTo(VirtualDesk desk, KeptAlive keptAlive)
    {
        while (_toDesk.TryTake(Now(), out var question))
        {
            desk.Handle(question.Bytes, new Replies(this, question.Peer, keptAlive));
            question.Return();
        }
    }

    /// <summary>Puts what nobody asked for on its way.</summary>
    public void Push(ReadOnlySpan<byte> message, SocketAddress listener) => _fromDesk.Send(message, Now(), NumberOf(listener));

    /// <summary>The next answer that has arrived, and where to.</summary>
    public bool TryTakeAnswer(out FaultyWire.Passage answer, out SocketAddress asker)
    {
        var taken = _fromDesk.TryTake(Now(), out answer);
        asker = _askers[answer.Peer];
        return taken;
    }

    private long Now() => TimeProvider.System.GetElapsedTime(_start).Ticks;

    private int NumberOf(SocketAddress sender)
    {
        for (var i = 0; i < _askers.Length; i++)
        {
            if (_askers[i].Equals(sender))
                return i;
        }

        var number = _nextAsker++ % _askers.Length;
        sender.Buffer.Span[..sender.Size].CopyTo(_askers[number].Buffer.Span);
        _askers[number].Size = sender.Size;
        return number;
    }

    private sealed class Replies(FaultyExchange exchange, int asker, KeptAlive keptAlive) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer) => exchange._fromDesk.Send(answer, exchange.Now(), asker);

        public void KeepAlive() => keptAlive.Add(exchange._askers[asker], TimeProvider.System.GetTimestamp());
    }
}
