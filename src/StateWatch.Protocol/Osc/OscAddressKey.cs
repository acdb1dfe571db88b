using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Length, first and last bytes of an address as four numbers: the whole of it up to <see cref="Complete"/> bytes. The numbers overlap
/// for lengths between, so that nothing is read past the end.
/// </summary>
[StructLayout(LayoutKind.Sequential, Pack = 8)]
internal readonly struct OscAddressKey
{
    /// <summary>Up to this many bytes two addresses are equal when their keys are.</summary>
    public const int Complete = 32;

    private readonly ulong _a;
    private readonly ulong _b;
    private readonly ulong _c;
    private readonly ulong _d;
    private readonly int _length;

    private OscAddressKey(ulong a, ulong b, ulong c, ulong d, int length)
    {
        _a = a;
        _b = b;
        _c = c;
        _d = d;
        _length = length;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static OscAddressKey Of(ReadOnlySpan<byte> address)
    {
        var length = address.Length;
        if (length >= 16)
        {
            return new OscAddressKey(
                BinaryPrimitives.ReadUInt64LittleEndian(address),
                BinaryPrimitives.ReadUInt64LittleEndian(address[8..]),
                BinaryPrimitives.ReadUInt64LittleEndian(address[(length - 16)..]),
                BinaryPrimitives.ReadUInt64LittleEndian(address[(length - 8)..]),
                length);
        }

        if (length >= 8)
        {
            return new OscAddressKey(
                BinaryPrimitives.ReadUInt64LittleEndian(address),
                BinaryPrimitives.ReadUInt64LittleEndian(address[(length - 8)..]), 0, 0, length);
        }

        ulong few = 0;
        foreach (var value in address)
            few = (few << 8) | value;
        return new OscAddressKey(few, 0, 0, 0, length);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool IsSameAs(in OscAddressKey other) =>
        ((_a ^ other._a) | (_b ^ other._b) | (_c ^ other._c) | (_d ^ other._d)) == 0 && _length == other._length;

    /// <summary>A hash of the whole address, well mixed in all bits; not meant to withstand chosen collisions.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ulong Hash(ReadOnlySpan<byte> address)
    {
        var hash = Mix(_a ^ 0xA076_1D64_78BD_642F, _b ^ 0xE703_7ED1_A0B4_28DB ^ (uint)_length)
            ^ Mix(_c ^ 0x8EBC_6AF0_9C88_C6E3, _d ^ 0x5899_65CC_7537_4CC3);
        return _length <= Complete ? hash : HashMiddle(address, hash);
    }

    private static ulong HashMiddle(ReadOnlySpan<byte> address, ulong hash)
    {
        for (var middle = address[16..^16]; !middle.IsEmpty; middle = middle.Length > 8 ? middle[8..] : default)
        {
            var word = middle.Length >= 8
                ? BinaryPrimitives.ReadUInt64LittleEndian(middle)
                : BinaryPrimitives.ReadUInt64LittleEndian(address[^24..]);
            hash = Mix(hash ^ word, 0x1D8E_4E27_C47D_124F);
        }

        return hash;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Mix(ulong left, ulong right) => Math.BigMul(left, right, out var low) ^ low;
}
