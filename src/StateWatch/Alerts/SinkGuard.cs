using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using StateWatch.Links;

namespace StateWatch.Alerts;

/// <summary>A watched desk as settings or profile name it.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Host">Host name or address.</param>
/// <param name="Port">The port it is asked at.</param>
internal readonly record struct DeskHost(string Desk, string Host, int Port);

/// <summary>
/// Keeps sinks away from watched desks: a message that was meant for a lamp may set something on a desk. Whatever resolves to a desk's machine is refused,
/// at any port, because a desk may listen at more than the one it is asked at; on this machine, where virtual desks live beside other programs, only the
/// desk's own port is. Addresses that stand for many machines, among which may be a desk, are refused too. Asked at the start and whenever a name is
/// looked up again. A desk whose name cannot be looked up is where it was last known to be; while it was never known, nobody can say that the receiver is
/// not the desk, and nothing is sent.
/// </summary>
/// <param name="desks">The desks that are watched at the moment.</param>
/// <param name="lookup">Finds addresses.</param>
internal sealed class SinkGuard(Func<IReadOnlyList<DeskHost>> desks, IHostLookup lookup)
{
    private const string RefusedWords = "this sink is refused";

    // Host of a desk -> where it was last known to be. Sinks ask from several threads.
    private readonly ConcurrentDictionary<string, IPAddress[]> _known = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether a fault means that the receiver must not be sent to, whatever else changes.</summary>
    public static bool IsRefusal(LinkException problem) => string.Equals(problem.What, RefusedWords, StringComparison.Ordinal);

    /// <summary>Finds the addresses of a sink's receiver.</summary>
    /// <param name="host">Host name or address.</param>
    /// <param name="port">Its port.</param>
    /// <param name="cancel">Ends it.</param>
    /// <returns>Its addresses, at least one, IPv4 first: names of a small network often have IPv6 addresses at which nobody listens.</returns>
    /// <exception cref="LinkException">It is a watched desk, stands for many machines or for none, or is not known; or a desk's own address is not known.</exception>
    public async ValueTask<IReadOnlyList<IPAddress>> Resolve(string host, int port, CancellationToken cancel)
    {
        var where = host.Contains(':', StringComparison.Ordinal) ? $"[{host}]:{port}" : $"{host}:{port}";
        var addresses = (await lookup.Find(host, cancel)).Select(Plain).Distinct()
            .OrderBy(static address => address.AddressFamily != AddressFamily.InterNetwork).ToArray();
        if (addresses.Length == 0)
            throw new LinkException("cannot find the receiver", where, $"no address is known for '{host}'", "check the spelling, or write its address as numbers, such as 192.0.2.40");
        foreach (var address in addresses)
        {
            if (IsMany(address))
                throw Refused(where, $"{address} stands for many machines, and a watched desk may be among them", "write the address of the receiver itself");
            if (address.Equals(IPAddress.Any) || address.Equals(IPAddress.IPv6Any))
                throw Refused(where, $"{address} is no address of a machine", "write the address of the receiver; this machine is 127.0.0.1");
        }

        foreach (var desk in desks())
        {
            if (Meets(desk, await AddressesOf(desk, where, cancel), addresses, port) is { } address)
            {
                throw Refused(where, $"it resolves to {address}, where the watched desk {desk.Desk} is ({desk.Host}:{desk.Port}), and whatever is sent to a desk may change it",
                    "write the address of the receiver, not of the desk");
            }
        }

        return addresses;
    }

    private async ValueTask<IPAddress[]> AddressesOf(DeskHost desk, string where, CancellationToken cancel)
    {
        var found = (await lookup.Find(desk.Host, cancel)).Select(Plain).ToArray();
        if (found.Length > 0)
            return _known[desk.Host] = found;
        return _known.GetValueOrDefault(desk.Host) ?? throw new LinkException("nothing is sent yet", where,
            $"no address is known for '{desk.Host}', where the watched desk {desk.Desk} is, so this receiver may be the desk", "see that the name can be looked up here, or write the desk's address as numbers");
    }

    private IPAddress? Meets(DeskHost desk, IPAddress[] desks, IPAddress[] addresses, int port)
    {
        foreach (var known in desks)
        {
            var isHere = IsHere(known);
            foreach (var address in addresses)
            {
                if (isHere ? IsHere(address) && port == desk.Port : address.Equals(known))
                    return address;
            }
        }

        return null;
    }

    private bool IsHere(IPAddress address) => IPAddress.IsLoopback(address) || lookup.Own.Any(own => Plain(own).Equals(address));

    private static IPAddress Plain(IPAddress address)
    {
        if (address.IsIPv4MappedToIPv6)
            return address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6 && address.ScopeId != 0 ? new IPAddress(address.GetAddressBytes()) : address;
    }

    // 224.0.0.0/4 is multicast (RFC 5771), 240.0.0.0/4 reserved and the limited broadcast (RFC 1112, RFC 919). A directed broadcast the system refuses to send.
    private static bool IsMany(IPAddress address) =>
        address.IsIPv6Multicast || (address.AddressFamily == AddressFamily.InterNetwork && address.GetAddressBytes()[0] >= 224);

    private static LinkException Refused(string where, string why, string advice) => new(RefusedWords, where, why, advice);
}
