using System.Text;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>What our reader found, as lines of text to compare.</summary>
internal static class OscText
{
    public static string Of(OscMessage message)
    {
        var line = new StringBuilder(Latin(message.Address));
        if (!message.HasTags)
            return $"{line} untyped {Convert.ToHexString(message.Data)}";
        var arguments = message.Arguments;
        while (arguments.Read(out var argument))
            line.Append(' ').Append((char)argument.Type).Append(Value(argument));
        return line.ToString();
    }

    /// <summary>The messages of a packet, each with its time tag.</summary>
    public static List<string> OfPacket(byte[] packet, out OscError error, out int rejected)
    {
        var lines = new List<string>();
        var reader = new OscPacketReader(packet);
        while (reader.Read(out var message))
            lines.Add($"{reader.TimeTag.Seconds} {reader.TimeTag.Fraction} {Of(message)}");
        error = reader.Error;
        rejected = reader.Rejected;
        return lines;
    }

    private static string Value(OscArgument argument) => argument.Type switch
    {
        OscType.Int32 or OscType.Char => argument.Int32.ToString("X8"),
        OscType.Colour or OscType.Midi => Convert.ToHexString(argument.Bytes),
        OscType.Float32 => BitConverter.SingleToInt32Bits(argument.Float32).ToString("X8"),
        OscType.Int64 => argument.Int64.ToString("X16"),
        OscType.Float64 => BitConverter.DoubleToInt64Bits(argument.Float64).ToString("X16"),
        OscType.TimeTag => argument.TimeTag.Bits.ToString("X16"),
        OscType.String or OscType.Symbol => $"\"{Latin(argument.Bytes)}\"",
        OscType.Blob => Convert.ToHexString(argument.Bytes),
        _ => "",
    };

    private static string Latin(ReadOnlySpan<byte> bytes) => Encoding.Latin1.GetString(bytes);
}
