using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace StateWatch.Alerts;

/// <summary>Finds addresses of hosts.</summary>
internal interface IHostLookup
{
    /// <summary>Addresses of this machine's own interfaces.</summary>
    IReadOnlyList<IPAddress> Own { get; }

    /// <summary>All addresses of a host, IPv4 and IPv6; none when it is not known.</summary>
    ValueTask<IReadOnlyList<IPAddress>> Find(string host, CancellationToken cancel);
}

/// <summary>Asks the system.</summary>
internal sealed class SystemLookup : IHostLookup
{
    /// <inheritdoc/>
    public IReadOnlyList<IPAddress> Own
    {
        get
        {
            try
            {
                return [.. NetworkInterface.GetAllNetworkInterfaces().SelectMany(static one => one.GetIPProperties().UnicastAddresses).Select(static one => one.Address)];
            }
            catch (NetworkInformationException)
            {
                return [];
            }
        }
    }

    /// <inheritdoc/>
    public async ValueTask<IReadOnlyList<IPAddress>> Find(string host, CancellationToken cancel)
    {
        if (IPAddress.TryParse(host, out var numeric))
            return [numeric];
        try
        {
            return await Dns.GetHostAddressesAsync(host, cancel);
        }
        catch (Exception problem) when (problem is SocketException or ArgumentException)
        {
            return [];
        }
    }
}
