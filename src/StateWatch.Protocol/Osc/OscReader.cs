using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

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
    private const int OneTag = 2;
    private const uint OneFloat32 = 0x2C_66_00_00;
    private const uint OneInt32 = 0x2C_69_00_00;

    /// <summary>Checks all of <paramref name="packet"/> and gives a view of it.</summary>
    /// <param name="packet">One message without framing: a datagram, or an element of a bundle.</param>
    /// <param name="message">The message; default when there is an error.</param>
    /// <returns><see cref="OscError.None"/>, or the first error met from left to right.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static OscError ReadMessage(ReadOnlySpan<byte> packet, out OscMessage message)
    {
        // The messages that a desk sends by the thousand have one number. The rest is out of line and returns no reference, so that
        // the message stays in registers where this is inlined.
        if (OscScan.IsQuick(packet) && (packet.Length & 3) == 0 && packet[0] == (byte)'/')
        {
            // The last word of the address, and the tags.
            var words = BinaryPrimitives.ReadUInt64BigEndian(packet.Slice(unchecked(packet.Length - 12), 8));
            if (unchecked((uint)words) is OneFloat32 or OneInt32)
            {
                // The length as the last word tells it is known sooner than the search ends, which only has to agree.
                var nulls = BitOperations.TrailingZeroCount(unchecked((uint)(words >> 32))) >> 3;
                var length = unchecked(packet.Length - 8 - nulls);
                if (OscScan.FirstNull(packet) == length)
                {
                    message = new OscMessage(packet, length, OneTag);
                    return OscError.None;
                }
            }
        }

        var layout = Check(packet);
        message = layout.Error == OscError.None ? new OscMessage(packet, layout.AddressLength, layout.TagsLength) : default;
        return layout.Error;
    }

    private static Layout Check(ReadOnlySpan<byte> packet)
    {
        if (packet.IsEmpty)
            return new Layout(OscError.Empty);
        if ((packet.Length & 3) != 0)
            return new Layout(OscError.NotMultipleOfFour);
        if (packet[0] != (byte)'/')
            return new Layout(packet[0] == (byte)'#' ? OscError.UnexpectedBundle : OscError.NotMessageOrBundle);

        var addressLength = packet.IndexOf((byte)0);
        if (addressLength < 0)
            return new Layout(OscError.UnterminatedAddress);
        if (!OscPadding.IsNull(packet, addressLength))
            return new Layout(OscError.BadPadding);

        var tagsStart = OscPadding.End(addressLength);
        if (tagsStart == packet.Length || packet[tagsStart] != (byte)',')
            return new Layout(OscError.None, addressLength);

        var tagsLength = packet[tagsStart..].IndexOf((byte)0);
        if (tagsLength < 0)
            return new Layout(OscError.UnterminatedTags);
        var tagsEnd = tagsStart + tagsLength;
        if (!OscPadding.IsNull(packet, tagsEnd))
            return new Layout(OscError.BadPadding);

        var error = OscArgumentCheck.Check(packet[(tagsStart + 1)..tagsEnd], packet[OscPadding.End(tagsEnd)..]);
        return new Layout(error, addressLength, tagsLength);
    }

    /// <summary>What <see cref="OscMessage"/> has to know; returned in registers.</summary>
    [StructLayout(LayoutKind.Sequential)]
    private readonly record struct Layout(OscError Error, int AddressLength = 0, int TagsLength = 0);
}
