using System.Globalization;

namespace StateWatch.Core.Profiles;

/// <summary>Reads <c>host:port</c>, also <c>[::1]:port</c>.</summary>
public static class HostAndPort
{
    /// <summary>Reads an address and port.</summary>
    /// <param name="text">Such as <c>192.0.2.10:9000</c>.</param>
    /// <param name="host">Host without brackets.</param>
    /// <param name="port">Port, 1 to 65535.</param>
    public static bool TryParse(string text, out string host, out int port)
    {
        var colon = text.LastIndexOf(':');
        host = colon > 0 ? text[..colon].Trim('[', ']') : "";
        port = 0;
        return host.Length > 0 && !host.AsSpan().ContainsAny(' ', '/')
            && int.TryParse(text.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out port) && port is >= 1 and <= 65535;
    }
}
