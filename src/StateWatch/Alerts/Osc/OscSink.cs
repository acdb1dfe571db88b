using System.Net;
using System.Net.Sockets;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Links;

namespace StateWatch.Alerts.Osc;

/// <summary>
/// Sends OSC messages of the user's over UDP: one for each alert, and one that says how a desk stands after each alert and with every beat. Nothing
/// acknowledges a datagram, so an alert counts as taken when it was sent and is sent once; the state is said again every 30 s, so that a lamp
/// that missed one is right half a minute later. A state without <c>{desk}</c> in it is of all desks together, so that one lamp can stand for several.
/// </summary>
internal sealed class OscSink : IAlertSink
{
    private static readonly TimeSpan LookUpEvery = TimeSpan.FromMinutes(1);

    private readonly string _host;
    private readonly int _port;
    private readonly OscTemplate? _alert;
    private readonly OscTemplate? _state;
    private readonly SinkGuard _guard;
    private readonly TimeProvider _clock;
    private readonly DeskBoard _board;
    private readonly bool _isPerDesk;
    private Socket? _socket;
    private IPEndPoint? _receiver;
    private long _lookedUpAt;

    /// <summary>Prepares it; nothing is sent yet.</summary>
    /// <param name="name">Its name in the settings.</param>
    /// <param name="to">Host and port.</param>
    /// <param name="alert">The message for each alert, or null.</param>
    /// <param name="state">The message for the state of a desk, or null.</param>
    /// <param name="guard">Finds the receiver.</param>
    /// <param name="clock">The time.</param>
    public OscSink(string name, (string Host, int Port) to, OscTemplate? alert, OscTemplate? state, SinkGuard guard, TimeProvider clock)
    {
        Name = name;
        (_host, _port) = to;
        (_alert, _state, _guard, _clock) = (alert, state, guard, clock);
        _isPerDesk = state?.Has("desk") == true;
        _board = new DeskBoard(clock);
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public string Place => $"osc {(_host.Contains(':', StringComparison.Ordinal) ? $"[{_host}]" : _host)}:{_port}";

    /// <inheritdoc/>
    public bool ShowsState => _state is not null;

    /// <inheritdoc/>
    public async ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel)
    {
        if (_alert is not null && await Send(_alert.Write(new OscValues(alert.Alert, [], null)), cancel) is { } failed)
            return failed;
        _board.Take(alert.Alert.Told);
        return _board.StatusOf(FindingKeys.DeskOf(alert.Alert.Told.Key)) is { } status ? await Show(status, cancel) : Delivery.Taken;
    }

    /// <inheritdoc/>
    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel)
    {
        _board.Take(status);
        return Show(status, cancel);
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _socket?.Dispose();
        return ValueTask.CompletedTask;
    }

    private async ValueTask<Delivery> Show(DeskStatus status, CancellationToken cancel)
    {
        if (_state is null)
            return Delivery.Taken;
        var desks = _isPerDesk ? [status] : _board.Statuses;
        return await Send(_state.Write(new OscValues(null, desks, _board.Count(desks))), cancel) ?? Delivery.Taken;
    }

    private async ValueTask<Delivery?> Send(byte[] packet, CancellationToken cancel)
    {
        try
        {
            var receiver = await Receiver(cancel);
            if (_socket is null || _socket.AddressFamily != receiver.AddressFamily)
            {
                _socket?.Dispose();
                // Without leave to broadcast: a directed broadcast, which may reach a desk, is refused by the system.
                _socket = new Socket(receiver.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
            }

            await _socket.SendToAsync(packet, receiver, cancel);
            return null;
        }
        catch (LinkException problem)
        {
            return new Delivery(DeliveryOutcome.Retry, problem.Message);
        }
        catch (SocketException problem)
        {
            _receiver = null;
            return new Delivery(DeliveryOutcome.Retry, $"{Place}: cannot send: {problem.SocketErrorCode}; is the network up on this machine?");
        }
    }

    private async ValueTask<IPEndPoint> Receiver(CancellationToken cancel)
    {
        if (_receiver is not null && _clock.GetElapsedTime(_lookedUpAt) < LookUpEvery)
            return _receiver;
        _receiver = null;
        var addresses = await _guard.Resolve(_host, _port, cancel);
        (_receiver, _lookedUpAt) = (new IPEndPoint(addresses[0], _port), _clock.GetTimestamp());
        return _receiver;
    }
}
