using System.Buffers.Binary;
using System.Text;

namespace StateWatch.Benchmarks;

/// <summary>20,000 distinct addresses of 8 to 30 bytes and a shuffled stream of messages to them, made without our writer.</summary>
internal static class OscSamples
{
    public const int AddressCount = 20_000;

    /// <summary>Messages in one benchmark call; figures are for each.</summary>
    public const int MessageCount = 4_096;

    private static readonly string[] Lots = ["lane", "p", "kettle", "basin", "dock"];
    private static readonly string[] Parts = ["on", "pour/a/height", "pour/c/height", "tilt", "stir/rate", "name"];

    /// <summary>The addresses, in the order of their ids.</summary>
    public static byte[][] Addresses()
    {
        var made = new List<byte[]>(AddressCount);
        for (var i = 0; made.Count < AddressCount; i++)
        {
            var address = $"/{Lots[i % 5]}/{i / 30:000}/{Parts[i / 5 % 6]}";
            if (address.Length is < 8 or > 30)
                throw new InvalidOperationException(address);
            made.Add(Encoding.ASCII.GetBytes(address));
        }

        return [.. made];
    }

    /// <summary>Messages with one float32 to addresses drawn evenly.</summary>
    public static byte[][] Messages(byte[][] addresses)
    {
        var random = new Random(1);
        var messages = new byte[MessageCount][];
        for (var i = 0; i < messages.Length; i++)
            messages[i] = Message(addresses[random.Next(addresses.Length)], random.NextSingle());
        return messages;
    }

    private static byte[] Message(byte[] address, float value)
    {
        var data = ((address.Length / 4) + 1) * 4;
        var message = new byte[data + 8];
        address.CopyTo(message, 0);
        ",f"u8.CopyTo(message.AsSpan(data));
        BinaryPrimitives.WriteSingleBigEndian(message.AsSpan(data + 4), value);
        return message;
    }
}
