using System.Buffers;

namespace StateWatch.Simulator;

/// <summary>Keeps every datagram that passed, in order, so that a test can say what was sent and what was not. For one thread at a time.</summary>
public sealed class DatagramLog
{
    /// <summary>The most bytes that are kept (64 MB).</summary>
    public const int MostBytes = 64 * 1024 * 1024;

    private readonly ArrayBufferWriter<byte> _bytes = new();
    private readonly List<int> _ends = [];

    /// <summary>How many are kept.</summary>
    public int Count => _ends.Count;

    /// <summary>How many passed after it was full; a proof needs this to be 0.</summary>
    public long Missed { get; private set; }

    /// <summary>One of them, by its order from 0; valid until the next one is added.</summary>
    public ReadOnlyMemory<byte> this[int index] => _bytes.WrittenMemory[(index == 0 ? 0 : _ends[index - 1]).._ends[index]];

    /// <summary>Keeps a copy.</summary>
    public void Add(ReadOnlySpan<byte> datagram)
    {
        if (datagram.Length > MostBytes - _bytes.WrittenCount)
        {
            Missed++;
            return;
        }

        _bytes.Write(datagram);
        _ends.Add(_bytes.WrittenCount);
    }

    /// <summary>Copies of all of them.</summary>
    public byte[][] ToArrays()
    {
        var copies = new byte[Count][];
        for (var i = 0; i < copies.Length; i++)
            copies[i] = this[i].ToArray();
        return copies;
    }
}
