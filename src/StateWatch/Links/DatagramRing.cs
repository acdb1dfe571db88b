using System.Numerics;

namespace StateWatch.Links;

/// <summary>
/// A bounded queue of datagrams between one thread that writes and one that reads. All memory is taken when it is made; a full ring
/// refuses, and the writer counts.
/// </summary>
internal sealed class DatagramRing
{
    private readonly byte[] _bytes;
    private readonly Entry[] _entries;
    private readonly int _mask;

    // Both only grow: next to be written (by the writer), next to be read (by the reader).
    private long _written;
    private long _read;

    /// <summary>Makes a ring.</summary>
    /// <param name="capacity">How many datagrams it holds; a power of two.</param>
    /// <param name="longest">The most bytes of one.</param>
    public DatagramRing(int capacity, int longest)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(longest);
        if (capacity < 1 || !BitOperations.IsPow2(capacity))
            throw new ArgumentOutOfRangeException(nameof(capacity), capacity, "The capacity is a power of two.");
        Longest = longest;
        _mask = capacity - 1;
        _bytes = GC.AllocateUninitializedArray<byte>(checked(capacity * longest));
        _entries = new Entry[capacity];
    }

    public int Capacity => _entries.Length;

    public int Longest { get; }

    /// <summary>How many wait to be read; exact only for the reader.</summary>
    public int Count => (int)(Volatile.Read(ref _written) - Volatile.Read(ref _read));

    /// <summary>Writer: adds a copy of a datagram.</summary>
    /// <returns>False when the ring is full.</returns>
    /// <exception cref="ArgumentException">The datagram is longer than <see cref="Longest"/>.</exception>
    public bool TryWrite(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        if (datagram.Length > Longest)
            throw new ArgumentException($"A datagram of {datagram.Length} bytes; at most {Longest} fit.", nameof(datagram));
        if (_written - Volatile.Read(ref _read) == Capacity)
            return false;
        var index = (int)_written & _mask;
        datagram.CopyTo(_bytes.AsSpan(index * Longest));
        _entries[index] = new Entry(receivedAt, datagram.Length);
        Volatile.Write(ref _written, _written + 1);
        return true;
    }

    /// <summary>Reader: the oldest datagram; its bytes stay until <see cref="Release"/>.</summary>
    public bool TryPeek(out ReadOnlySpan<byte> datagram, out long receivedAt)
    {
        datagram = default;
        receivedAt = 0;
        if (_read == Volatile.Read(ref _written))
            return false;
        var index = (int)_read & _mask;
        receivedAt = _entries[index].ReceivedAt;
        datagram = _bytes.AsSpan(index * Longest, _entries[index].Length);
        return true;
    }

    /// <summary>Reader: gives the place of the datagram last peeked at back to the writer.</summary>
    public void Release() => Volatile.Write(ref _read, _read + 1);

    private readonly record struct Entry(long ReceivedAt, int Length);
}
