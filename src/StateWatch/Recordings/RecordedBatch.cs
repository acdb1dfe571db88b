using StateWatch.Core.Links;

namespace StateWatch.Recordings;

/// <summary>One batch of a recording: both moments, orders, and the datagrams between.</summary>
internal sealed class RecordedBatch
{
    /// <summary>A batch of a watch holds far fewer; what has more is no recording of one.</summary>
    public const int MostDatagrams = 65_536;

    private const int MostBytes = 32 * 1024 * 1024;

    private readonly List<(int Start, int Length, long ReceivedAt)> _datagrams = [];
    private byte[] _bytes = new byte[4096];
    private int _length;

    /// <summary>When it began.</summary>
    public RecordedMoment Began { get; private set; }

    /// <summary>When it ended.</summary>
    public RecordedMoment Ended { get; set; }

    /// <summary>What was ordered in it.</summary>
    public List<RecordedOrder> Orders { get; } = [];

    /// <summary>The counters of the link, as of the last status.</summary>
    public LinkCounters Counters { get; set; }

    /// <summary>How many datagrams came in.</summary>
    public int Count => _datagrams.Count;

    /// <summary>Begins another one.</summary>
    public void Begin(RecordedMoment began)
    {
        (Began, _length) = (began, 0);
        Orders.Clear();
        _datagrams.Clear();
    }

    /// <summary>Adds a datagram; whether there is room for it.</summary>
    public bool TryAdd(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        if (_datagrams.Count >= MostDatagrams || _length + datagram.Length > MostBytes)
            return false;
        if (_length + datagram.Length > _bytes.Length)
            Array.Resize(ref _bytes, Math.Max(2 * _bytes.Length, _length + datagram.Length));
        datagram.CopyTo(_bytes.AsSpan(_length));
        _datagrams.Add((_length, datagram.Length, receivedAt));
        _length += datagram.Length;
        return true;
    }

    /// <summary>Hands over all datagrams at their times.</summary>
    public void HandOver(IDatagramReceiver receiver)
    {
        foreach (var (start, length, receivedAt) in _datagrams)
            receiver.OnDatagram(_bytes.AsSpan(start, length), receivedAt);
    }
}

/// <summary>A moment on both clocks, as it was recorded.</summary>
/// <param name="Timestamp">On the clock of the link.</param>
/// <param name="Wall">The time of day.</param>
internal readonly record struct RecordedMoment(long Timestamp, DateTimeOffset Wall);
