using System.Net;
using StateWatch.Alerts;

namespace StateWatch.Tests.Alerts;

/// <summary>Host names of an invented network; numbers are themselves.</summary>
internal sealed class KnownHosts : IHostLookup
{
    public Dictionary<string, string[]> Names { get; } = new(StringComparer.OrdinalIgnoreCase) { ["localhost"] = ["127.0.0.1", "::1"] };

    public IReadOnlyList<IPAddress> Own { get; set; } = [];

    public int Asked { get; private set; }

    public ValueTask<IReadOnlyList<IPAddress>> Find(string host, CancellationToken cancel)
    {
        Asked++;
        IReadOnlyList<IPAddress> found = IPAddress.TryParse(host, out var numeric) ? [numeric] : [.. Names.GetValueOrDefault(host, []).Select(IPAddress.Parse)];
        return ValueTask.FromResult(found);
    }

    /// <summary>A guard before no desk, or these.</summary>
    public static SinkGuard Guard(params DeskHost[] desks) => new(() => desks, new KnownHosts());
}
