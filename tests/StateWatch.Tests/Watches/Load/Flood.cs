using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace StateWatch.Tests.Watches.Load;

/// <summary>Datagrams from a stranger on this machine, well formed, at a rate; bounded in time, and so in count. Loopback only.</summary>
internal sealed class Flood : IDisposable
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly CancellationTokenSource _end = new();
    private readonly Task<long> _sending;

    public Flood(IPEndPoint to, int perSecond, TimeSpan atMost)
    {
        if (!IPAddress.IsLoopback(to.Address))
            throw new ArgumentException("a flood stays on this machine", nameof(to));
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        _sending = Task.Factory.StartNew(() => Send(to, perSecond, atMost), TaskCreationOptions.LongRunning);
    }

    /// <summary>Ends it.</summary>
    /// <returns>How many were sent.</returns>
    public async Task<long> Stop()
    {
        await _end.CancelAsync();
        return await _sending;
    }

    public void Dispose()
    {
        _end.Cancel();
        _sending.Wait();
        _socket.Dispose();
        _end.Dispose();
    }

    private long Send(IPEndPoint to, int perSecond, TimeSpan atMost)
    {
        // A lie about the switch of input 1, from a port that is not the desk's.
        var lie = "/bed/1/awake\0\0\0\0,i\0\0\0\0\0\0"u8.ToArray();
        var address = to.Serialize();
        var (began, sent) = (Stopwatch.GetTimestamp(), 0L);
        while (!_end.IsCancellationRequested && Stopwatch.GetElapsedTime(began) is var gone && gone < atMost)
        {
            for (var due = (long)(gone.TotalSeconds * perSecond) - sent; due > 0; due--, sent++)
                _ = _socket.SendTo(lie, SocketFlags.None, address);
            Thread.Sleep(1);
        }

        return sent;
    }
}
