using System.Diagnostics.CodeAnalysis;

namespace StateWatch.Recordings;

/// <summary>
/// Datagrams that a recording has had, by number: a desk that is asked in rounds says the same thousands of times. Whoever writes and whoever reads keep
/// the same ones by the same rule, and begin anew when there are too many.
/// </summary>
internal sealed class SeenDatagrams
{
    private const int MostDatagrams = 65_536;
    private const int MostBytes = 8 * 1024 * 1024;
    private const int LongestKept = 1024;

    private readonly List<byte[]> _datagrams = [];
    private readonly Dictionary<byte[], int> _numbers = new(new BytesComparer());
    private readonly Dictionary<byte[], int>.AlternateLookup<ReadOnlySpan<byte>> _lookup;
    private int _bytes;
    private int _next;

    /// <summary>None was seen.</summary>
    public SeenDatagrams() => _lookup = _numbers.GetAlternateLookup<ReadOnlySpan<byte>>();

    /// <summary>What is written of a datagram that was seen: from the number that was to be expected, which is the one after the last.</summary>
    public bool TryFind(ReadOnlySpan<byte> datagram, out int step)
    {
        step = 0;
        if (!_lookup.TryGetValue(datagram, out var number))
            return false;
        step = number - _next;
        _next = number + 1;
        return true;
    }

    /// <summary>The datagram that was written so.</summary>
    public bool TryRead(long step, [NotNullWhen(true)] out byte[]? datagram)
    {
        datagram = null;
        var number = unchecked(_next + step);
        if (number < 0 || number >= _datagrams.Count)
            return false;
        _next = (int)number + 1;
        datagram = _datagrams[(int)number];
        return true;
    }

    /// <summary>Keeps one that was not seen.</summary>
    public void Keep(ReadOnlySpan<byte> datagram)
    {
        if (datagram.Length > LongestKept)
            return;
        if (_datagrams.Count >= MostDatagrams || _bytes >= MostBytes)
        {
            _datagrams.Clear();
            _numbers.Clear();
            _bytes = 0;
        }

        var kept = datagram.ToArray();
        _numbers[kept] = _datagrams.Count;
        _datagrams.Add(kept);
        _bytes += kept.Length;
        _next = _datagrams.Count;
    }

    private sealed class BytesComparer : IEqualityComparer<byte[]>, IAlternateEqualityComparer<ReadOnlySpan<byte>, byte[]>
    {
        public bool Equals(byte[]? x, byte[]? y) => x.AsSpan().SequenceEqual(y);

        public int GetHashCode(byte[] obj) => GetHashCode(obj.AsSpan());

        public bool Equals(ReadOnlySpan<byte> alternate, byte[] other) => alternate.SequenceEqual(other);

        public int GetHashCode(ReadOnlySpan<byte> alternate)
        {
            var hash = new HashCode();
            hash.AddBytes(alternate);
            return hash.ToHashCode();
        }

        public byte[] Create(ReadOnlySpan<byte> alternate) => alternate.ToArray();
    }
}
