using System.Net;
using System.Net.Sockets;

namespace StateWatch.Links;

/// <summary>Finds the network address of a desk, and tells its datagrams from others' without allocating.</summary>
internal sealed class DeskAddress
{
    // In both socket address forms the port is at bytes 2 and 3. IPv4 has its address at 4 to 7; IPv6 at 8 to 23, its scope at 24 to 27.
    private const int PortStart = 2;

    // A resolver's own patience is that of several servers and suffixes, one after the other; a watch must come round meanwhile.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    private readonly SocketAddress _socketAddress;
    private readonly bool _hasScope;

    private DeskAddress(IPEndPoint endPoint)
    {
        EndPoint = endPoint;
        _socketAddress = endPoint.Serialize();
        _hasScope = endPoint.AddressFamily == AddressFamily.InterNetworkV6 && endPoint.Address.ScopeId != 0;
    }

    public IPEndPoint EndPoint { get; }

    public SocketAddress SocketAddress => _socketAddress;

    /// <summary>Finds a host's address; IPv4 before IPv6, because most desks speak only that.</summary>
    /// <param name="host">A name or an address.</param>
    /// <param name="port">1 to 65535.</param>
    /// <param name="lookup">Finds addresses; null for the system.</param>
    /// <param name="patience">How long it may take; null for 5 s.</param>
    /// <exception cref="LinkException">The host is not known, or is not one desk.</exception>
    public static DeskAddress Resolve(string host, int port, Func<string, Task<IPAddress[]>>? lookup = null, TimeSpan? patience = null)
    {
        var where = host.Contains(':', StringComparison.Ordinal) ? $"[{host}]:{port}" : $"{host}:{port}";
        const string what = "cannot find the desk";
        if (port is < 1 or > 65535)
            throw new LinkException(what, where, $"{port} is not a UDP port", "use 1 to 65535");
        IPAddress[] found;
        try
        {
            // Looking up refuses 0.0.0.0 with a reason of its own, so numbers are read here.
            found = IPAddress.TryParse(host, out var numeric) ? [numeric] : (lookup ?? Dns.GetHostAddressesAsync)(host).WaitAsync(patience ?? Patience).GetAwaiter().GetResult();
        }
        catch (Exception problem) when (problem is SocketException or ArgumentException)
        {
            throw new LinkException(what, where, $"no address is known for '{host}'", "check the spelling, or write the desk's address as numbers, such as 192.0.2.10", problem);
        }
        catch (TimeoutException problem)
        {
            throw new LinkException(what, where, $"nobody said within {(patience ?? Patience).TotalSeconds:0} s what address '{host}' has", "look whether this machine reaches its name server, or write the desk's address as numbers, such as 192.0.2.10", problem);
        }

        var address = found.FirstOrDefault(candidate => candidate.AddressFamily == AddressFamily.InterNetwork)
            ?? found.FirstOrDefault(candidate => candidate.AddressFamily == AddressFamily.InterNetworkV6)
            ?? throw new LinkException(what, where, $"'{host}' has neither an IPv4 nor an IPv6 address", "write the desk's address as numbers, such as 192.0.2.10");
        if (address.IsIPv4MappedToIPv6)
            address = address.MapToIPv4();
        if (!IsOneHost(address))
            throw new LinkException(what, where, $"{address} stands for many machines or for none, not for one desk", "write the address of the desk itself");
        return new DeskAddress(new IPEndPoint(address, port));
    }

    /// <summary>Whether a datagram came from the desk: its address and its port.</summary>
    public bool IsSender(SocketAddress sender)
    {
        if (sender.Family != _socketAddress.Family)
            return false;
        var actual = sender.Buffer.Span;
        var expected = _socketAddress.Buffer.Span;
        if (sender.Family == AddressFamily.InterNetwork)
            return actual[PortStart..8].SequenceEqual(expected[PortStart..8]);
        return actual[PortStart..4].SequenceEqual(expected[PortStart..4]) && actual[8..24].SequenceEqual(expected[8..24])
            && (!_hasScope || actual[24..28].SequenceEqual(expected[24..28]));
    }

    private static bool IsOneHost(IPAddress address)
    {
        if (address.Equals(IPAddress.Any) || address.Equals(IPAddress.IPv6Any) || address.Equals(IPAddress.Broadcast) || address.IsIPv6Multicast)
            return false;
        // 224.0.0.0/4 is multicast (RFC 5771), 240.0.0.0/4 reserved (RFC 1112), 0.0.0.0/8 "this network" (RFC 1122).
        return address.AddressFamily != AddressFamily.InterNetwork || address.GetAddressBytes()[0] is > 0 and < 224;
    }
}
