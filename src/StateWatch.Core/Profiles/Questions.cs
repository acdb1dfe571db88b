using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>Builds the datagrams that ask. They are made when the profile is compiled and never changed.</summary>
public static class Questions
{
    /// <summary>The bare-address question: the address, an empty type tag string and nothing else.</summary>
    /// <param name="address">A valid OSC address.</param>
    public static byte[] Bare(byte[] address)
    {
        Span<byte> buffer = stackalloc byte[address.Length + 16];
        var writer = new OscWriter(buffer);
        writer.StartMessage(address, []);
        var problem = writer.Finish(out var length);
        return problem == OscError.None ? buffer[..length].ToArray() : throw new ArgumentException($"not an address: {problem}", nameof(address));
    }
}
