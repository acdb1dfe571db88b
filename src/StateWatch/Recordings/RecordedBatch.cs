using StateWatch.Core.Links;

namespace StateWatch.Recordings;

/// <summary>One batch of a recording: both moments, orders, and the datagrams between.</summary>
internal sealed class RecordedBatch
{
    /// <summary>A batch of a watch holds far fewer datagrams or orders; what has more is no recording of one.</summary>
    private const int MostOfAKind = 65_536;

    private const int MostBytes = 32 * 1024 * 1024;

    private readonly List<(int Start, int Length, long ReceivedAt)> _datagrams = [];
    private readonly List<RecordedOrder> _orders = [];
    private byte[] _bytes = new byte[4096];
    private int _length;
    private int _ofOrders;

    /// <summary>When it began.</summary>
    public RecordedMoment Began { get; private set; }

    /// <summary>When it ended.</summary>
    public RecordedMoment Ended { get; set; }

    /// <summary>What was ordered in it.</summary>
    public IReadOnlyList<RecordedOrder> Orders => _orders;

    /// <summary>The counters of the link, as of the last status.</summary>
    public LinkCounters Counters { get; set; }

    /// <summary>How many datagrams came in.</summary>
    public int Count => _datagrams.Count;

    /// <summary>Begins another one.</summary>
    public void Begin(RecordedMoment began)
    {
        (Began, _length, _ofOrders) = (began, 0, 0);
        _orders.Clear();
        _datagrams.Clear();
    }

    /// <summary>Adds an order; whether there is room for it.</summary>
    /// <param name="order">The order.</param>
    /// <param name="length">How many bytes it had: as many as many datagrams, where it holds a plan.</param>
    public bool TryAdd(RecordedOrder order, int length)
    {
        if (_orders.Count >= MostOfAKind || _ofOrders + length > MostBytes)
            return false;
        _orders.Add(order);
        _ofOrders += length;
        return true;
    }

    /// <summary>Adds a datagram; whether there is room for it.</summary>
    public bool TryAdd(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        if (_datagrams.Count >= MostOfAKind || _length + datagram.Length > MostBytes)
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
