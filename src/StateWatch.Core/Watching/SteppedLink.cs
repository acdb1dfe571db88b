using StateWatch.Core.Findings;
using StateWatch.Core.Links;

namespace StateWatch.Core.Watching;

/// <summary>
/// A link whose time stands still but for two steps a batch, before it and after it. So everything in a batch is decided at one of two moments, and
/// whoever writes down those moments and the datagrams between them can play the same again, with the same outcome.
/// </summary>
internal sealed class SteppedLink : IDeskReader, IDatagramReceiver
{
    private const int ItemsBetweenLooksAtTheClock = 16;

    // A timestamp of nanoseconds holds no more.
    private static readonly TimeSpan LastTime = TimeSpan.FromDays(100_000);

    private readonly IDeskReader _inner;
    private readonly SteppedClock _clock;
    private readonly long _work;
    private IDatagramReceiver? _receiver;
    private int _items;
    private long _workEnds;
    private bool _isBehind;

    public SteppedLink(IDeskReader inner)
    {
        _inner = inner;
        _clock = new SteppedClock(inner.Clock);
        _work = inner.Clock.TimestampFrequency / 500;
    }

    /// <summary>Gets every datagram and every moment, to be written down; null when nobody does.</summary>
    public IWatchTape? Tape { get; set; }

    /// <summary>When the first datagram of the last batch came in; 0 when none did.</summary>
    public long FirstReceived { get; private set; }

    public string Desk => _inner.Desk;

    public LinkCounters Counters => _inner.Counters;

    public TimeProvider Clock => _clock;

    /// <summary>The clock of the link itself.</summary>
    public TimeProvider TrueClock => _inner.Clock;

    bool IDatagramReceiver.IsFull => _isBehind = _receiver!.IsFull || (_items % ItemsBetweenLooksAtTheClock == 0 && _inner.Clock.GetTimestamp() >= _workEnds);

    public bool Ask(int question) => _inner.Ask(question);

    /// <summary>Goes on to now; while more is waiting than was taken in, no further than what was: a backlog must not be taken for silence.</summary>
    public void Step()
    {
        if (!_isBehind)
            _clock.StepTo(_inner.Clock.GetTimestamp(), _inner.Clock.GetUtcNow());
    }

    /// <summary>The moment it stands at.</summary>
    public Moment Now => new(_clock.GetElapsedTime(0), _clock.GetUtcNow());

    /// <summary>The timestamp of a moment of its clock.</summary>
    public long TimestampOf(TimeSpan clock) =>
        clock >= LastTime ? long.MaxValue : (long)((decimal)clock.Ticks * _clock.TimestampFrequency / TimeSpan.TicksPerSecond);

    public int Receive(long deadline, IDatagramReceiver receiver)
    {
        (_receiver, _items, _workEnds, _isBehind, FirstReceived) = (receiver, 0, long.MaxValue, false, 0);
        var count = _inner.Receive(deadline, this);
        _receiver = null;
        Step();
        return count;
    }

    public void Dispose() => _inner.Dispose();

    void IDatagramReceiver.OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        if (_items++ == 0)
            (_workEnds, FirstReceived) = (_inner.Clock.GetTimestamp() + _work, receivedAt);
        Tape?.Datagram(datagram, receivedAt);
        _clock.StepTo(receivedAt, _clock.GetUtcNow());
        _receiver!.OnDatagram(datagram, receivedAt);
    }

    private sealed class SteppedClock : TimeProvider
    {
        private readonly TimeProvider _inner;
        private long _now;
        private DateTimeOffset _wall;

        public SteppedClock(TimeProvider inner)
        {
            // The first moment counts whatever its number is.
            (_inner, _now, _wall) = (inner, inner.GetTimestamp(), inner.GetUtcNow());
        }

        public override long TimestampFrequency => _inner.TimestampFrequency;

        public override TimeZoneInfo LocalTimeZone => _inner.LocalTimeZone;

        public override long GetTimestamp() => _now;

        public override DateTimeOffset GetUtcNow() => _wall;

        public void StepTo(long timestamp, DateTimeOffset wall)
        {
            if (timestamp <= _now)
                return;
            (_now, _wall) = (timestamp, wall);
        }

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            throw new NotSupportedException("Time that is stepped has no timers.");
    }
}
