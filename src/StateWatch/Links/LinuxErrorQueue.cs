using System.Net.Sockets;

namespace StateWatch.Links;

/// <summary>
/// Lets an unconnected UDP socket hear that nobody listens at the other end (ICMP port unreachable). Linux tells it only when asked to
/// (<c>IP_RECVERR</c> in ip(7), <c>IPV6_RECVERR</c> in ipv6(7)); elsewhere this does nothing.
/// </summary>
internal static class LinuxErrorQueue
{
    private const int IpLevel = 0;
    private const int IpReceiveErrors = 11;
    private const int Ipv6Level = 41;
    private const int Ipv6ReceiveErrors = 25;

    /// <summary>Asks for errors.</summary>
    public static void Enable(Socket socket) => Switch(socket, on: true);

    /// <summary>
    /// Throws away what is queued: the reports share the receive buffer with datagrams, and switching the option off empties the queue.
    /// </summary>
    public static void Empty(Socket socket)
    {
        Switch(socket, on: false);
        Switch(socket, on: true);
    }

    private static void Switch(Socket socket, bool on)
    {
        if (!OperatingSystem.IsLinux())
            return;
        ReadOnlySpan<int> value = [on ? 1 : 0];
        var bytes = System.Runtime.InteropServices.MemoryMarshal.AsBytes(value);
        try
        {
            if (socket.AddressFamily == AddressFamily.InterNetwork)
                socket.SetRawSocketOption(IpLevel, IpReceiveErrors, bytes);
            else
                socket.SetRawSocketOption(Ipv6Level, Ipv6ReceiveErrors, bytes);
        }
        catch (SocketException)
        {
            // Without it a desk that nobody runs is found out by silence instead.
        }
        catch (ObjectDisposedException)
        {
            // Closed meanwhile.
        }
    }
}
