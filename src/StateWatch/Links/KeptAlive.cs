using System.Net;
using System.Net.Sockets;

namespace StateWatch.Links;

/// <summary>Who wants to be sent what changes on a virtual desk, and until when. For one thread at a time.</summary>
internal sealed class KeptAlive(AddressFamily family, TimeSpan lasts)
{
    /// <summary>The most at a time; one more takes the place of whoever is to be forgotten first.</summary>
    public const int Most = 16;

    private readonly SocketAddress[] _who = [.. Enumerable.Range(0, Most).Select(_ => new SocketAddress(family))];
    private readonly long[] _until = new long[Most];

    /// <summary>Somebody asked to be sent changes.</summary>
    public void Add(SocketAddress who, long now)
    {
        var place = Array.FindIndex(_who, one => one.Equals(who));
        if (place < 0)
            place = Array.IndexOf(_until, _until.Min());
        who.Buffer.Span[..who.Size].CopyTo(_who[place].Buffer.Span);
        _who[place].Size = who.Size;
        _until[place] = now + (long)(lasts.TotalSeconds * TimeProvider.System.TimestampFrequency);
    }

    /// <summary>Whether anybody is to be sent changes.</summary>
    public bool Any(long now) => _until.AsSpan().ContainsAnyInRange(now + 1, long.MaxValue);

    /// <summary>Who is in a place, 0 to <see cref="Most"/> - 1; null for nobody who is to be sent changes.</summary>
    public SocketAddress? Find(int place, long now) => _until[place] > now ? _who[place] : null;

    /// <summary>Forgets everybody.</summary>
    public void Clear() => Array.Clear(_until);
}
