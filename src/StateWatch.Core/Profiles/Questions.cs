using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>Builds the datagrams that ask. They are made when the profile is compiled and never changed.</summary>
public static class Questions
{
    /// <summary>The bare-address question: the address, an empty type tag string and nothing else.</summary>
    /// <param name="address">A valid OSC address.</param>
    public static byte[] Bare(byte[] address)
    {
        // Address and at least one null, to a multiple of four; then a comma and three nulls (OSC 1.0, OSC-string).
        var question = new byte[(address.Length + 4) / 4 * 4 + 4];
        var writer = new OscWriter(question);
        writer.StartMessage(address, []);
        var problem = writer.Finish(out var length);
        return problem == OscError.None && length == question.Length ? question : throw new ArgumentException($"not an address: {problem}", nameof(address));
    }
}
