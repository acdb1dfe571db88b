using System.Net;
using System.Net.Sockets;
using StateWatch.Core.Settings;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Links;

/// <summary>
/// Lets a virtual desk answer on a UDP socket, on this machine only unless told otherwise. It has a thread of its own; everything here may
/// be called from any thread.
/// </summary>
/// <remarks>
/// Changes are made under a lock rather than queued: when <see cref="Set"/> returns, the next answer has the new value.
/// </remarks>
internal sealed class UdpVirtualDesk : IDisposable
{
    private const int SocketBufferBytes = 1 << 20;
    private const int LongestDatagram = 65_536;

    private readonly VirtualDesk _desk;
    private readonly Socket _socket;
    private readonly FaultyExchange? _exchange;
    private readonly KeptAlive _keptAlive;
    private readonly Pushes _pushes;
    private readonly Thread _thread;
    private readonly Lock _gate = new();
    private volatile bool _closing;
    private long _unsent;

    private UdpVirtualDesk(VirtualDesk desk, Socket socket, DatagramLog? log, FaultyExchange? exchange)
    {
        _desk = desk;
        _socket = socket;
        _exchange = exchange;
        _keptAlive = new KeptAlive(socket.AddressFamily, desk.Profile.Follow.KeepAlive?.Lasts ?? TimeSpan.Zero);
        _pushes = new Pushes(this);
        Log = log;
        EndPoint = (IPEndPoint)socket.LocalEndPoint!;
        _thread = new Thread(Serve) { IsBackground = true, Name = $"virtual desk {EndPoint}" };
        _thread.Start();
    }

    /// <summary>Where it listens; it does so since before this object existed.</summary>
    public IPEndPoint EndPoint { get; }

    /// <summary>Everything that was sent to it, if asked for; read it after <see cref="Dispose"/>, or under <see cref="Use{T}"/>.</summary>
    public DatagramLog? Log { get; }

    /// <summary>Answers the network did not take.</summary>
    public long Unsent => Volatile.Read(ref _unsent);

    /// <summary>Starts it.</summary>
    /// <param name="desk">The desk; from now on it is used through this object only.</param>
    /// <param name="port">UDP port; 0 for any free one.</param>
    /// <param name="listen">Where to listen; loopback when not given.</param>
    /// <param name="capture">Whether to keep everything that is sent to it.</param>
    /// <param name="toDesk">What happens to questions on the way; nothing when not given.</param>
    /// <param name="fromDesk">What happens to answers on the way; nothing when not given.</param>
    /// <param name="seed">Decides the faults.</param>
    /// <exception cref="LinkException">The port is in use or not allowed.</exception>
    public static UdpVirtualDesk Start(VirtualDesk desk, int port = 0, IPAddress? listen = null, bool capture = false,
        WireFaults? toDesk = null, WireFaults? fromDesk = null, ulong seed = 1)
    {
        var socket = Bind(new IPEndPoint(listen ?? IPAddress.Loopback, port));
        var faulty = toDesk is { AreNone: false } || fromDesk is { AreNone: false };
        var exchange = faulty ? new FaultyExchange(toDesk ?? WireFaults.None, fromDesk ?? WireFaults.None, seed, socket.AddressFamily) : null;
        return new UdpVirtualDesk(desk, socket, capture ? new DatagramLog() : null, exchange);
    }

    /// <summary>Sets a value, as a hand on the desk would.</summary>
    /// <exception cref="ArgumentException">See <see cref="VirtualDesk.Set"/>.</exception>
    public void Set(int setting, SettingValue value)
    {
        lock (_gate)
        {
            _desk.Set(setting, value);
            SendChanges();
        }
    }

    /// <summary>Does what somebody did, all at once.</summary>
    public void Apply(Incident incident)
    {
        lock (_gate)
        {
            _desk.Apply(incident);
            SendChanges();
        }
    }

    /// <summary>Does anything else with the desk while it answers nobody.</summary>
    public T Use<T>(Func<VirtualDesk, T> action)
    {
        lock (_gate)
        {
            var result = action(_desk);
            SendChanges();
            return result;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_closing)
            return;
        _closing = true;
        _socket.Dispose();
        _thread.Join();
    }

    private static Socket Bind(IPEndPoint endPoint)
    {
        const string what = "the virtual desk cannot listen";
        Socket? socket = null;
        try
        {
            socket = new Socket(endPoint.AddressFamily, SocketType.Dgram, ProtocolType.Udp) { ReceiveBufferSize = SocketBufferBytes };
            socket.Bind(endPoint);
            return socket;
        }
        catch (SocketException problem)
        {
            socket?.Dispose();
            var (why, advice) = problem.SocketErrorCode switch
            {
                SocketError.AddressAlreadyInUse => ("another program on this machine uses the port, perhaps another virtual desk",
                    "end it, or choose another port; port 0 takes any free one"),
                SocketError.AccessDenied => ("this user may not use the port", "choose a port above 1023, or port 0 for any free one"),
                SocketError.AddressNotAvailable => ("this machine has no such address", "leave the address out to listen on this machine only"),
                var other => (other.ToString(), "choose another port; port 0 takes any free one"),
            };
            throw new LinkException(what, endPoint.ToString(), why, advice, problem);
        }
    }

    private void Serve()
    {
        var buffer = new byte[LongestDatagram];
        var sender = new SocketAddress(_socket.AddressFamily);
        var direct = new DirectReplies(this, sender);
        while (!_closing)
        {
            try
            {
                if (_exchange is not null && !_socket.Poll(UntilNext(_exchange), SelectMode.SelectRead))
                {
                    Exchange();
                    continue;
                }

                sender.Size = sender.Buffer.Length;
                var length = _socket.ReceiveFrom(buffer, SocketFlags.None, sender);
                Take(buffer.AsSpan(0, length), sender, direct);
            }
            catch (Exception problem) when (problem is SocketException or ObjectDisposedException)
            {
                // Elsewhere than on Linux a receive fails when somebody who asked has gone away: the desk goes on.
            }
        }
    }

    private void Take(ReadOnlySpan<byte> datagram, SocketAddress sender, DirectReplies direct)
    {
        lock (_gate)
        {
            Log?.Add(datagram);
            if (_exchange is null)
                _desk.Handle(datagram, direct);
            else
                _exchange.Take(datagram, sender);
            SendChanges();
        }

        if (_exchange is not null)
            Exchange();
    }

    private void Exchange()
    {
        lock (_gate)
        {
            _exchange!.DeliverTo(_desk, _keptAlive);
            SendChanges();
        }

        while (TryTakeAnswer(out var answer, out var asker))
        {
            Send(answer.Bytes, asker);
            answer.Return();
        }
    }

    private TimeSpan UntilNext(FaultyExchange exchange)
    {
        lock (_gate)
            return exchange.UntilNext();
    }

    private bool TryTakeAnswer(out FaultyWire.Passage answer, out SocketAddress asker)
    {
        lock (_gate)
            return _exchange!.TryTakeAnswer(out answer, out asker);
    }

    /// <summary>Sends what has changed to whoever keeps the desk alive; a silent desk has forgotten them. Under the lock.</summary>
    private void SendChanges()
    {
        if (_desk.Silent)
            _keptAlive.Clear();
        _desk.TakeChanges(_keptAlive.Any(TimeProvider.System.GetTimestamp()) ? _pushes : null);
    }

    private void Send(ReadOnlySpan<byte> answer, SocketAddress asker)
    {
        try
        {
            _ = _socket.SendTo(answer, SocketFlags.None, asker);
        }
        catch (SocketException)
        {
            Volatile.Write(ref _unsent, _unsent + 1);
        }
    }

    private sealed class DirectReplies(UdpVirtualDesk desk, SocketAddress asker) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer) => desk.Send(answer, asker);

        public void KeepAlive() => desk._keptAlive.Add(asker, TimeProvider.System.GetTimestamp());
    }

    private sealed class Pushes(UdpVirtualDesk desk) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer)
        {
            var now = TimeProvider.System.GetTimestamp();
            for (var i = 0; i < Links.KeptAlive.Most; i++)
            {
                if (desk._keptAlive.Find(i, now) is not { } listener)
                    continue;
                if (desk._exchange is null)
                    desk.Send(answer, listener);
                else
                    desk._exchange.Push(answer, listener);
            }
        }
    }
}
