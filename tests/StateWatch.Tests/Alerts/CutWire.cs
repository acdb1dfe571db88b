using System.Net;
using System.Net.Sockets;

namespace StateWatch.Tests.Alerts;

/// <summary>A wire on loopback to a port that can be cut, without anybody's saying goodbye, and that can hold back answers.</summary>
internal sealed class CutWire : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _end = new();
    private readonly List<Socket> _sockets = [];
    private readonly Lock _gate = new();
    private readonly int _to;
    private readonly Task _accepting;
    private TaskCompletionSource? _held;
    private int _passing;

    public CutWire(int to)
    {
        _to = to;
        _listener.Start();
        _accepting = Accept();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>Cuts what is connected; new connections are made as before.</summary>
    public void Cut()
    {
        lock (_gate)
        {
            foreach (var socket in _sockets)
                socket.Close(0);
            _sockets.Clear();
        }
    }

    /// <summary>Lets so many bytes of answers through, and holds back what follows.</summary>
    public void HoldAfter(int bytes)
    {
        lock (_gate)
            (_passing, _held) = (bytes, new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously));
    }

    /// <summary>Lets everything through again.</summary>
    public void Release()
    {
        lock (_gate)
        {
            _held?.TrySetResult();
            _held = null;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        _listener.Stop();
        Cut();
        Release();
        await _accepting;
        _end.Dispose();
    }

    private async Task Accept()
    {
        var carrying = new List<Task>();
        try
        {
            while (true)
            {
                var near = await _listener.AcceptSocketAsync(_end.Token);
                var far = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
                await far.ConnectAsync(IPAddress.Loopback, _to, _end.Token);
                lock (_gate)
                    _sockets.AddRange([near, far]);
                carrying.Add(Carry(near, far, isAnswer: false));
                carrying.Add(Carry(far, near, isAnswer: true));
            }
        }
        catch (Exception problem) when (problem is OperationCanceledException or SocketException or InvalidOperationException)
        {
            Cut();
            await Task.WhenAll(carrying);
        }
    }

    private async Task Carry(Socket from, Socket to, bool isAnswer)
    {
        var buffer = new byte[8192];
        try
        {
            while (await from.ReceiveAsync(buffer, _end.Token) is var count and > 0)
            {
                var (first, held) = isAnswer ? Passing(count) : (count, null);
                if (first > 0)
                    await to.SendAsync(buffer.AsMemory(0, first), _end.Token);
                if (held is null)
                    continue;
                await held;
                await to.SendAsync(buffer.AsMemory(first, count - first), _end.Token);
            }
        }
        catch (Exception problem) when (problem is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // Cut.
        }
    }

    private (int First, Task? Held) Passing(int count)
    {
        lock (_gate)
        {
            if (_held is null)
                return (count, null);
            var first = Math.Min(count, _passing);
            _passing -= first;
            return (first, first < count ? _held.Task : null);
        }
    }
}
