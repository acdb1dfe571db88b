using System.Buffers.Binary;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Writes a whole message with no or one argument (OSC 1.0, "OSC Messages"): the questions and answers of most desks. Total, like
/// <see cref="OscWriter"/>.
/// </summary>
public static class OscMessageWriter
{
    private const uint NoArguments = 0x2C_00_00_00;
    private const uint OneFloat32 = 0x2C_66_00_00;
    private const uint OneInt32 = 0x2C_69_00_00;

    /// <summary>Writes a message without arguments.</summary>
    /// <param name="buffer">Where it goes.</param>
    /// <param name="address">Address or pattern; begins with <c>/</c>, no nulls.</param>
    /// <param name="length">Bytes written; 0 when there is an error.</param>
    public static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, out int length)
    {
        if (Prepare(buffer, address, sizeof(uint), out length) is var error and not OscError.None)
            return error;
        BinaryPrimitives.WriteUInt32BigEndian(buffer[(length - 4)..], NoArguments);
        return OscError.None;
    }

    /// <summary>Writes a message with one <c>f</c>.</summary>
    /// <inheritdoc cref="Write(Span{byte}, ReadOnlySpan{byte}, out int)"/>
    public static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, float value, out int length) =>
        Write(buffer, address, OneFloat32, BitConverter.SingleToInt32Bits(value), out length);

    /// <summary>Writes a message with one <c>i</c>.</summary>
    /// <inheritdoc cref="Write(Span{byte}, ReadOnlySpan{byte}, out int)"/>
    public static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, int value, out int length) =>
        Write(buffer, address, OneInt32, value, out length);

    private static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, uint tags, int bits, out int length)
    {
        if (Prepare(buffer, address, sizeof(ulong), out length) is var error and not OscError.None)
            return error;
        BinaryPrimitives.WriteUInt64BigEndian(buffer[(length - 8)..], ((ulong)tags << 32) | unchecked((uint)bits));
        return OscError.None;
    }

    private static OscError Prepare(Span<byte> buffer, ReadOnlySpan<byte> address, int tail, out int length)
    {
        length = 0;
        if (address.IsEmpty || address[0] != (byte)'/')
            return OscError.AddressNotAbsolute;
        if (address.Contains((byte)0))
            return OscError.NullInString;
        if (address.Length > buffer.Length)
            return OscError.BufferTooSmall;
        var end = OscPadding.End(address.Length);
        if (end + tail > buffer.Length)
            return OscError.BufferTooSmall;
        BinaryPrimitives.WriteUInt32BigEndian(buffer[(end - 4)..], 0);
        address.CopyTo(buffer);
        length = end + tail;
        return OscError.None;
    }
}
