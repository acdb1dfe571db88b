using System.Buffers;

namespace StateWatch.Simulator;

/// <summary>
/// One direction of a wire that loses, doubles, delays and reorders datagrams as its seed decides. Times are ticks of 100 ns of whatever
/// clock the caller has. The same calls with the same seed give the same arrivals. For one thread at a time.
/// </summary>
/// <remarks>Buffers are pooled: once the wire was as full as it gets, it allocates nothing.</remarks>
public sealed class FaultyWire(WireFaults faults, ulong seed)
{
    /// <summary>The most datagrams that are under way; more are lost, as in a full switch.</summary>
    public const int Capacity = 65_536;

    private readonly SeededNumbers _numbers = new(seed);
    private readonly PriorityQueue<Passage, (long Due, long Order)> _underWay = new();
    private long _latest = long.MinValue;
    private long _order;

    /// <summary>Datagrams that will never arrive, so far.</summary>
    public long Lost { get; private set; }

    /// <summary>Datagrams that arrive twice, so far.</summary>
    public long Doubled { get; private set; }

    /// <summary>Datagrams under way.</summary>
    public int UnderWay => _underWay.Count;

    /// <summary>When the next one arrives; <see cref="long.MaxValue"/> when none is under way.</summary>
    public long NextDue => _underWay.TryPeek(out _, out var priority) ? priority.Due : long.MaxValue;

    /// <summary>Puts a datagram on the wire.</summary>
    /// <param name="datagram">Its bytes; copied.</param>
    /// <param name="now">The time now; never less than in the call before.</param>
    /// <param name="peer">Whom it is for or from, for a caller with several.</param>
    public void Send(ReadOnlySpan<byte> datagram, long now, int peer = 0)
    {
        // The numbers are drawn whatever happens to the datagram, so that one fault does not shift the others.
        var lost = _numbers.Chance(faults.Loss);
        var doubled = _numbers.Chance(faults.Duplicates);
        var first = Draw(now);
        var second = Draw(now);
        if (lost || _underWay.Count >= Capacity)
        {
            Lost++;
            return;
        }

        Enqueue(datagram, first, peer);
        if (!doubled)
            return;
        Doubled++;
        Enqueue(datagram, second, peer);
    }

    /// <summary>Takes the next datagram that has arrived.</summary>
    /// <param name="now">The time now.</param>
    /// <param name="datagram">Its bytes; give them back with <see cref="Passage.Return"/>.</param>
    public bool TryTake(long now, out Passage datagram)
    {
        datagram = default;
        return NextDue <= now && _underWay.TryDequeue(out datagram, out _);
    }

    private Arrival Draw(long now)
    {
        var spread = Math.Max(0, (faults.DelayMost - faults.DelayLeast).Ticks);
        var due = now + Math.Max(0, faults.DelayLeast.Ticks) + (long)(_numbers.NextUnit() * spread);
        return _numbers.Chance(faults.Reordered) ? new Arrival(due + faults.HeldBack.Ticks, MayBeOvertaken: true) : new Arrival(due, MayBeOvertaken: false);
    }

    private void Enqueue(ReadOnlySpan<byte> bytes, Arrival arrival, int peer)
    {
        // What may not be overtaken queues behind what came before.
        var due = arrival.MayBeOvertaken ? arrival.Due : _latest = Math.Max(_latest, arrival.Due);
        var buffer = ArrayPool<byte>.Shared.Rent(Math.Max(1, bytes.Length));
        bytes.CopyTo(buffer);
        _underWay.Enqueue(new Passage(buffer, bytes.Length, peer, due), (due, _order++));
    }

    private readonly record struct Arrival(long Due, bool MayBeOvertaken);

    /// <summary>A datagram that has arrived.</summary>
    public readonly struct Passage
    {
        private readonly byte[] _buffer;
        private readonly int _length;

        internal Passage(byte[] buffer, int length, int peer, long due)
        {
            _buffer = buffer;
            _length = length;
            Peer = peer;
            Due = due;
        }

        /// <summary>Whom it is for or from.</summary>
        public int Peer { get; }

        /// <summary>When it arrived.</summary>
        public long Due { get; }

        /// <summary>Its bytes.</summary>
        public ReadOnlySpan<byte> Bytes => _buffer.AsSpan(0, _length);

        /// <summary>Gives the buffer back; the bytes must not be used after it.</summary>
        public void Return() => ArrayPool<byte>.Shared.Return(_buffer);
    }
}
