using System.Net;
using System.Net.Sockets;
using StateWatch.Commands;
using StateWatch.Core.Watching;
using StateWatch.Protocol.Osc;

namespace StateWatch.Hosting;

/// <summary>
/// Takes OSC messages over UDP by which phases and cues of plans begin. A thread of its own; whatever comes in is one of the messages that a plan names, or
/// nothing. Nobody is answered.
/// </summary>
internal sealed class MessageListener : IDisposable
{
    private const int LongestDatagram = 4096;

    private readonly IReadOnlyList<WatchedDesk> _desks;
    private readonly ILogger _log;
    private readonly Socket _socket;
    private readonly Thread _thread;
    private readonly MessagePace _pace;
    private volatile bool _closing;

    private MessageListener(IReadOnlyList<WatchedDesk> desks, TimeProvider clock, ILogger log, Socket socket)
    {
        (_desks, _log, _socket, _pace) = (desks, log, socket, new MessagePace(clock));
        EndPoint = (IPEndPoint)socket.LocalEndPoint!;
        _thread = new Thread(ReceiveAll) { IsBackground = true, Name = "messages" };
        _thread.Start();
    }

    /// <summary>Where it listens.</summary>
    public IPEndPoint EndPoint { get; }

    /// <summary>Opens it.</summary>
    /// <exception cref="CommandException">The address is taken, or none of this machine (exit 69).</exception>
    public static MessageListener Open(IPEndPoint at, IReadOnlyList<WatchedDesk> desks, TimeProvider clock, ILogger log)
    {
        Socket? socket = null;
        try
        {
            socket = new Socket(at.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
            socket.Bind(at);
            return new MessageListener(desks, clock, log, socket);
        }
        catch (SocketException problem)
        {
            socket?.Dispose();
            throw new CommandException(ExitCodes.Unavailable, $"statewatch: messages:listen: cannot listen at {at}: {problem.SocketErrorCode}; another program may have this port, or this machine no such address; write another one.");
        }
    }

    public void Dispose()
    {
        if (_closing)
            return;
        _closing = true;
        _socket.Dispose();
        _thread.Join();
    }

    private void ReceiveAll()
    {
        var buffer = new byte[LongestDatagram];
        EndPoint sender = new IPEndPoint(EndPoint.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any, 0);
        while (!_closing)
        {
            try
            {
                var length = _socket.ReceiveFrom(buffer, ref sender);
                Take(buffer.AsSpan(0, length), sender);
            }
            catch (SocketException) when (!_closing)
            {
                // One that was too long, or a refusal of something else: the next one counts.
            }
            catch (Exception problem) when (_closing && problem is SocketException or ObjectDisposedException)
            {
                return;
            }
        }
    }

    private void Take(ReadOnlySpan<byte> datagram, EndPoint sender)
    {
        var packet = new OscPacketReader(datagram);
        while (packet.Read(out var message))
        {
            var isKnown = false;
            foreach (var desk in _desks)
            {
                if (desk.Messages?.Find(message) is not { } order)
                    continue;
                isKnown = true;
                Give(desk, order);
            }

            if (!isKnown && _log.IsEnabled(LogLevel.Debug))
                _log.MessageUnknown(System.Text.Encoding.UTF8.GetString(message.Address), sender.ToString() ?? "");
        }
    }

    private void Give(WatchedDesk desk, WatchOrder order)
    {
        var admission = _pace.Ask(desk.Key, order);
        if (admission == MessageAdmission.FirstTooMany)
            _log.MessagesLeftOut(desk.Key, MessagePace.AtOnce);
        if (admission == MessageAdmission.Give)
            desk.Loop.Order(order with { Reply = result => _log.OrderTaken(order is CueOrder ? "cue" : "phase", desk.Key, MessageOrders.By, result.Text) });
    }
}
