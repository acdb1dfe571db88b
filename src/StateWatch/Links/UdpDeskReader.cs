using System.Net;
using System.Net.Sockets;
using StateWatch.Core.Links;
using StateWatch.Core.Profiles;

namespace StateWatch.Links;

/// <summary>
/// A link to a desk over UDP that can only ask. A thread of its own takes datagrams off the socket, drops and counts those of other
/// senders than the desk, and puts the rest into a bounded ring; <see cref="Receive"/> empties the ring. Nothing is allocated per message.
/// </summary>
/// <remarks>
/// The socket is not connected, so that foreign datagrams can be counted. <see cref="Ask"/> and <see cref="Receive"/> are for one thread
/// at a time. <see cref="Receive"/> may return up to a millisecond after its deadline.
/// </remarks>
internal sealed class UdpDeskReader : IDeskReader
{
    /// <summary>How many datagrams wait for <see cref="Receive"/> at the most.</summary>
    public const int RingCapacity = 1024;

    /// <summary>The longest datagram taken in, in bytes: more than fits into one frame of any common network.</summary>
    public const int LongestDatagram = 4096;

    // Asked of the system; it may give less. Room for the answers of a whole round while this process is not running.
    private const int SocketBufferBytes = 1 << 20;

    // More refusals in a row than questions can be in flight.
    private const int MostFailuresInARow = 128;

    private static readonly TimeSpan FailurePause = TimeSpan.FromMilliseconds(10);

    private readonly DeskProfile _profile;
    private readonly DeskAddress _desk;
    private readonly Socket _socket;
    private readonly DatagramRing _ring = new(RingCapacity, LongestDatagram);
    private readonly ManualResetEventSlim _arrived = new();
    private readonly Thread _thread;
    private volatile bool _closing;
    private long _sent;
    private long _received;
    private long _foreign;
    private long _dropped;
    private long _tooLong;
    private long _refused;

    private UdpDeskReader(DeskProfile profile, DeskAddress desk, Socket socket)
    {
        _profile = profile;
        _desk = desk;
        _socket = socket;
        Desk = desk.EndPoint.ToString();
        _thread = new Thread(ReceiveAll) { IsBackground = true, Name = $"desk {Desk}" };
        _thread.Start();
    }

    /// <inheritdoc/>
    public string Desk { get; }

    /// <inheritdoc/>
    public LinkCounters Counters => new(
        Volatile.Read(ref _sent), Volatile.Read(ref _received), Volatile.Read(ref _foreign),
        Volatile.Read(ref _dropped), Volatile.Read(ref _tooLong), Volatile.Read(ref _refused));

    /// <inheritdoc/>
    public TimeProvider Clock => TimeProvider.System;

    /// <summary>The address that questions come from.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Opens a link; nothing is sent yet.</summary>
    /// <param name="profile">The desk's profile, whose questions it may ask.</param>
    /// <param name="host">Host name or address instead of the profile's.</param>
    /// <param name="port">UDP port instead of the profile's.</param>
    /// <exception cref="LinkException">The host is not known, or the system gives no socket.</exception>
    public static UdpDeskReader Open(DeskProfile profile, string? host = null, int? port = null)
    {
        var desk = DeskAddress.Resolve(host ?? profile.Link.Host, port ?? profile.Link.Port);
        var family = desk.EndPoint.AddressFamily;
        Socket? socket = null;
        try
        {
            socket = new Socket(family, SocketType.Dgram, ProtocolType.Udp) { ReceiveBufferSize = SocketBufferBytes };
            LinuxErrorQueue.Enable(socket);
            socket.Bind(new IPEndPoint(LocalAddress(desk.EndPoint.Address), 0));
            return new UdpDeskReader(profile, desk, socket);
        }
        catch (SocketException problem)
        {
            socket?.Dispose();
            throw new LinkException("cannot open a link to the desk", desk.EndPoint.ToString(), problem.SocketErrorCode.ToString(),
                family == AddressFamily.InterNetworkV6 ? "is IPv6 switched on here? An IPv4 address may work" : "is the network up on this machine?", problem);
        }
    }

    /// <inheritdoc/>
    public bool Ask(int question)
    {
        var bytes = _profile.QuestionOf(question);
        // A send may fail with the refusal of an earlier question; then this one has not gone out yet.
        var problem = Send(bytes);
        if (problem == SocketError.ConnectionRefused)
            problem = Send(bytes);
        if (problem != SocketError.Success)
            return false;
        Count(ref _sent);
        return true;
    }

    /// <inheritdoc/>
    public int Receive(long deadline, IDatagramReceiver receiver)
    {
        while (true)
        {
            _arrived.Reset();
            if (HandOver(receiver) is var count and > 0)
                return count;
            var left = Clock.GetElapsedTime(Clock.GetTimestamp(), deadline);
            if (left <= TimeSpan.Zero || _closing)
                return 0;
            _arrived.Wait((int)Math.Min(int.MaxValue, Math.Ceiling(left.TotalMilliseconds)));
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
        _arrived.Dispose();
    }

    /// <summary>Hands over what is there now; what comes in meanwhile waits, so that a flood cannot hold the caller.</summary>
    private int HandOver(IDatagramReceiver receiver)
    {
        var count = 0;
        for (var waiting = _ring.Count; count < waiting && _ring.TryPeek(out var datagram, out var receivedAt); count++)
        {
            receiver.OnDatagram(datagram, receivedAt);
            _ring.Release();
            if (receiver.IsFull)
                return count + 1;
        }

        return count;
    }

    private SocketError Send(byte[] bytes)
    {
        try
        {
            _ = _socket.SendTo(bytes, SocketFlags.None, _desk.SocketAddress);
            return SocketError.Success;
        }
        catch (SocketException problem)
        {
            Refuse();
            return problem.SocketErrorCode;
        }
    }

    private void ReceiveAll()
    {
        // One byte more than is taken in tells a datagram that was cut.
        var buffer = new byte[LongestDatagram + 1];
        var sender = new SocketAddress(_socket.AddressFamily);
        var failures = 0;
        while (!_closing)
        {
            try
            {
                sender.Size = sender.Buffer.Length;
                var length = _socket.ReceiveFrom(buffer, SocketFlags.None, sender);
                failures = 0;
                Take(buffer.AsSpan(0, length), sender);
            }
            catch (SocketException problem) when (problem.SocketErrorCode == SocketError.MessageSize)
            {
                Count(ref _tooLong);
            }
            catch (SocketException) when (!_closing)
            {
                Refuse();
                // One refusal is told once; a network that keeps failing must not take the processor with it.
                if (++failures > MostFailuresInARow)
                    Thread.Sleep(FailurePause);
            }
            catch (Exception problem) when (_closing && problem is SocketException or ObjectDisposedException)
            {
                return;
            }
        }
    }

    private void Take(ReadOnlySpan<byte> datagram, SocketAddress sender)
    {
        if (!_desk.IsSender(sender))
            Count(ref _foreign);
        else if (datagram.Length > LongestDatagram)
            Count(ref _tooLong);
        else if (!_ring.TryWrite(datagram, Clock.GetTimestamp()))
            Count(ref _dropped);
        else
        {
            Count(ref _received);
            _arrived.Set();
        }
    }

    private void Refuse()
    {
        Interlocked.Increment(ref _refused);
        LinuxErrorQueue.Empty(_socket);
    }

    // Only one thread writes each of these.
    private static void Count(ref long counter) => Volatile.Write(ref counter, counter + 1);

    // A desk on this machine (a virtual one) is spoken to over loopback only.
    private static IPAddress LocalAddress(IPAddress desk)
    {
        var six = desk.AddressFamily == AddressFamily.InterNetworkV6;
        if (IPAddress.IsLoopback(desk))
            return six ? IPAddress.IPv6Loopback : IPAddress.Loopback;
        return six ? IPAddress.IPv6Any : IPAddress.Any;
    }
}
