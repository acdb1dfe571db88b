using System.Buffers.Binary;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Reads one message (OSC 1.0, "OSC Messages"). Total: any bytes give a message or a named error, never an exception,
/// and nothing outside the span is touched.
/// </summary>
/// <remarks>
/// Where OSC 1.0 is silent: padding that is not null and bytes after the last argument are errors, because a value read from the
/// wrong place is worse than no value.
/// </remarks>
public static class OscReader
{
    private const uint NoArguments = 0x2C_00_00_00;
    private const uint OneFloat32 = 0x2C_66_00_00;
    private const uint OneInt32 = 0x2C_69_00_00;

    /// <summary>Checks all of <paramref name="packet"/> and gives a view of it.</summary>
    /// <param name="packet">One message without framing: a datagram, or an element of a bundle.</param>
    /// <param name="message">The message; default when there is an error.</param>
    /// <returns><see cref="OscError.None"/>, or the first error met from left to right.</returns>
    public static OscError ReadMessage(ReadOnlySpan<byte> packet, out OscMessage message)
    {
        message = default;
        if (packet.IsEmpty || (packet.Length & 3) != 0 || packet[0] != (byte)'/')
            return Refuse(packet);

        var addressLength = packet.IndexOf((byte)0);
        if (addressLength < 0)
            return OscError.UnterminatedAddress;

        var tagsStart = OscPadding.End(addressLength);
        if (!OscPadding.IsNull(packet, addressLength))
            return OscError.BadPadding;

        if (tagsStart < packet.Length)
        {
            var tags = BinaryPrimitives.ReadUInt32BigEndian(packet[tagsStart..]);
            var left = packet.Length - tagsStart;
            if (left == 8 && tags is OneFloat32 or OneInt32)
            {
                message = new OscMessage(packet, addressLength, tagsStart + 1, 1, tagsStart + 4);
                return OscError.None;
            }

            if (left == 4 && tags == NoArguments)
            {
                message = new OscMessage(packet, addressLength, tagsStart + 1, 0, tagsStart + 4);
                return OscError.None;
            }
        }

        return ReadTagged(packet, addressLength, tagsStart, ref message);
    }

    private static OscError Refuse(ReadOnlySpan<byte> packet)
    {
        if (packet.IsEmpty)
            return OscError.Empty;
        if ((packet.Length & 3) != 0)
            return OscError.NotMultipleOfFour;
        return packet[0] == (byte)'#' ? OscError.UnexpectedBundle : OscError.NotMessageOrBundle;
    }

    private static OscError ReadTagged(ReadOnlySpan<byte> packet, int addressLength, int tagsStart, ref OscMessage message)
    {
        if (tagsStart == packet.Length || packet[tagsStart] != (byte)',')
        {
            message = new OscMessage(packet, addressLength, tagsStart, 0, tagsStart);
            return OscError.None;
        }

        var tagsLength = packet[tagsStart..].IndexOf((byte)0);
        if (tagsLength < 0)
            return OscError.UnterminatedTags;
        if (!OscPadding.IsNull(packet, tagsStart + tagsLength))
            return OscError.BadPadding;

        var dataStart = OscPadding.End(tagsStart + tagsLength);
        var tags = packet.Slice(tagsStart + 1, tagsLength - 1);
        var error = OscArgumentCheck.Check(tags, packet[dataStart..]);
        if (error == OscError.None)
            message = new OscMessage(packet, addressLength, tagsStart + 1, tags.Length, dataStart);
        return error;
    }
}
