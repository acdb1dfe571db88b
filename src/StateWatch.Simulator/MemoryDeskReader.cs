using StateWatch.Core.Links;

namespace StateWatch.Simulator;

/// <summary>
/// A link to a virtual desk without sockets, in virtual time: time moves only in <see cref="Receive"/>, so a sweep with losses and delays
/// runs in no time and the same for a seed. For one thread at a time.
/// </summary>
public sealed class MemoryDeskReader : IDeskReader
{
    private const int ForeignPeer = 1;

    private readonly VirtualClock _clock;
    private readonly FaultyWire _toDesk;
    private readonly FaultyWire _fromDesk;
    private readonly Replies _replies;
    private long _keptUntil = long.MinValue;
    private long _sent;
    private long _received;
    private long _foreign;
    private long _refused;

    /// <summary>Opens a link.</summary>
    /// <param name="desk">The desk at the other end.</param>
    /// <param name="toDesk">What happens to questions; nothing when not given.</param>
    /// <param name="fromDesk">What happens to answers; nothing when not given.</param>
    /// <param name="seed">Decides the faults.</param>
    /// <param name="clock">The clock to use; one of its own when not given.</param>
    public MemoryDeskReader(VirtualDesk desk, WireFaults? toDesk = null, WireFaults? fromDesk = null, ulong seed = 1, VirtualClock? clock = null)
    {
        VirtualDesk = desk;
        _clock = clock ?? new VirtualClock();
        _toDesk = new FaultyWire(toDesk ?? WireFaults.None, seed);
        _fromDesk = new FaultyWire(fromDesk ?? WireFaults.None, unchecked(seed + 0x9E37_79B9_7F4A_7C15));
        _replies = new Replies(this);
    }

    /// <summary>The desk at the other end.</summary>
    public VirtualDesk VirtualDesk { get; }

    /// <inheritdoc/>
    public string Desk => "a place in memory";

    /// <inheritdoc/>
    public LinkCounters Counters => new(_sent, _received, _foreign, Dropped: 0, TooLong: 0, _refused);

    /// <inheritdoc/>
    public TimeProvider Clock => _clock;

    /// <summary>Every datagram that was sent towards the desk, whether it arrived or not.</summary>
    public DatagramLog SentDatagrams { get; } = new();

    /// <summary>Whether nobody listens there: every question is refused.</summary>
    public bool Refusing { get; set; }

    /// <inheritdoc/>
    public bool Ask(int question)
    {
        var bytes = VirtualDesk.Profile.QuestionOf(question);
        if (Refusing)
        {
            _refused++;
            return false;
        }

        _sent++;
        SentDatagrams.Add(bytes);
        _toDesk.Send(bytes, _clock.GetTimestamp());
        return true;
    }

    /// <summary>Lets the desk send something that nobody asked for; it takes the wire's way.</summary>
    /// <param name="datagram">Any bytes.</param>
    public void SendUnasked(ReadOnlySpan<byte> datagram) => _fromDesk.Send(datagram, _clock.GetTimestamp());

    /// <summary>Lets another address than the desk's send something: it is dropped and counted.</summary>
    /// <param name="datagram">Any bytes.</param>
    public void SendForeign(ReadOnlySpan<byte> datagram) => _fromDesk.Send(datagram, _clock.GetTimestamp(), ForeignPeer);

    /// <inheritdoc/>
    public int Receive(long deadline, IDatagramReceiver receiver)
    {
        var until = Math.Max(deadline, _clock.GetTimestamp());
        SendChanges();
        while (true)
        {
            // What the desk is asked at one moment it answers before anything that arrives here at that moment is handed over.
            var next = Math.Min(_toDesk.NextDue, _fromDesk.NextDue);
            if (next > until)
                break;
            _clock.AdvanceTo(next);
            DeliverQuestions();
            SendChanges();
            if (HandOver(receiver) is var count and > 0)
                return count;
        }

        _clock.AdvanceTo(until);
        return 0;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        while (_toDesk.TryTake(long.MaxValue, out var question))
            question.Return();
        while (_fromDesk.TryTake(long.MaxValue, out var answer))
            answer.Return();
    }

    private void DeliverQuestions()
    {
        while (_toDesk.TryTake(_clock.GetTimestamp(), out var question))
        {
            VirtualDesk.Handle(question.Bytes, _replies);
            question.Return();
        }
    }

    // Nobody but this link keeps the desk alive. A desk that is silent has forgotten whom it was sending to.
    private void SendChanges()
    {
        if (VirtualDesk.Silent)
            _keptUntil = long.MinValue;
        VirtualDesk.TakeChanges(_clock.GetTimestamp() < _keptUntil ? _replies : null);
    }

    private int HandOver(IDatagramReceiver receiver)
    {
        var count = 0;
        while ((count == 0 || !receiver.IsFull) && _fromDesk.TryTake(_clock.GetTimestamp(), out var answer))
        {
            if (answer.Peer == ForeignPeer)
            {
                _foreign++;
            }
            else
            {
                _received++;
                count++;
                receiver.OnDatagram(answer.Bytes, answer.Due);
            }

            answer.Return();
        }

        return count;
    }

    private sealed class Replies(MemoryDeskReader link) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer) => link._fromDesk.Send(answer, link._clock.GetTimestamp());

        public void KeepAlive() => link._keptUntil = link._clock.GetTimestamp() + (link.VirtualDesk.Profile.Follow.KeepAlive?.Lasts.Ticks ?? 0);
    }
}
