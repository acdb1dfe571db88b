using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Writes a whole message with no or one argument (OSC 1.0, "OSC Messages"): the questions and answers of most desks. Total, like
/// <see cref="OscWriter"/>. On error the content of the buffer is undefined.
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
        var error = WriteAddress(buffer, address, sizeof(uint), out var end);
        if (error == OscError.None)
            BinaryPrimitives.WriteUInt32BigEndian(buffer.Slice(end, sizeof(uint)), NoArguments);
        length = error == OscError.None ? unchecked(end + sizeof(uint)) : 0;
        return error;
    }

    /// <summary>Writes a message with one <c>f</c>.</summary>
    /// <inheritdoc cref="Write(Span{byte}, ReadOnlySpan{byte}, out int)"/>
    public static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, float value, out int length) =>
        Write(buffer, address, OneFloat32, BitConverter.SingleToInt32Bits(value), out length);

    /// <summary>Writes a message with one <c>i</c>.</summary>
    /// <inheritdoc cref="Write(Span{byte}, ReadOnlySpan{byte}, out int)"/>
    public static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, int value, out int length) =>
        Write(buffer, address, OneInt32, value, out length);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static OscError Write(Span<byte> buffer, ReadOnlySpan<byte> address, uint tags, int bits, out int length)
    {
        var error = WriteAddress(buffer, address, sizeof(ulong), out var end);
        if (error == OscError.None)
            BinaryPrimitives.WriteUInt64BigEndian(buffer.Slice(end, sizeof(ulong)), ((ulong)tags << 32) | unchecked((uint)bits));
        length = error == OscError.None ? unchecked(end + sizeof(ulong)) : 0;
        return error;
    }

    /// <summary>Writes the address with its nulls.</summary>
    /// <param name="buffer">Where the message goes.</param>
    /// <param name="address">The address.</param>
    /// <param name="tail">How many bytes have to fit behind it.</param>
    /// <param name="end">Where they go.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static OscError WriteAddress(Span<byte> buffer, ReadOnlySpan<byte> address, int tail, out int end)
    {
        end = OscPadding.End(address.Length);
        if (address.IsEmpty || address[0] != (byte)'/')
            return OscError.AddressNotAbsolute;
        if ((long)end + tail > buffer.Length)
            return address.Contains((byte)0) ? OscError.NullInString : OscError.BufferTooSmall;
        BinaryPrimitives.WriteUInt32BigEndian(buffer.Slice(unchecked(end - 4), sizeof(uint)), 0);
        return OscScan.CopyWithoutNull(address, buffer) ? OscError.None : OscError.NullInString;
    }
}
