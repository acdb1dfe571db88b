using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// All bytes of an address of <see cref="Least"/> to <see cref="Complete"/> bytes, to be compared at once with those of an address of
/// the same length. They are its first and its last, which overlap in the middle, so that nothing is read past its end.
/// </summary>
[StructLayout(LayoutKind.Sequential)]
internal readonly struct OscAddressKey
{
    /// <summary>The fewest bytes of an address that has a key.</summary>
    public const int Least = 8;

    /// <summary>The most bytes of an address that has a key.</summary>
    public const int Complete = 32;

    private readonly Vector256<byte> _bytes;

    /// <param name="address">An address whose length is in range.</param>
    /// <param name="hash">Not meant to withstand chosen collisions.</param>
    /// <exception cref="ArgumentOutOfRangeException">The length is not in range.</exception>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public OscAddressKey(ReadOnlySpan<byte> address, out OscAddressHash hash)
    {
        // With this checked, all places below are inside. Spans would check each of them again, which was measured.
        if (address.Length is < Least or > Complete)
            throw new ArgumentOutOfRangeException(nameof(address));
        ref var first = ref MemoryMarshal.GetReference(address);
        ref var last = ref Unsafe.Add(ref first, unchecked((uint)address.Length - 8));
        if (address.Length >= 16)
        {
            ref var middle = ref Unsafe.Subtract(ref last, 8);
            _bytes = Vector256.Create(Vector128.LoadUnsafe(ref first), Vector128.LoadUnsafe(ref middle));
            hash = new OscAddressHash(Crc(ref first, ref middle), Crc(ref Unsafe.Add(ref first, 8), ref last));
        }
        else
        {
            _bytes = Vector256.Create(Read(ref first), Read(ref last), 0, 0).AsByte();
            hash = new OscAddressHash(Crc(ref first, ref last), Crc(ref last, ref first));
        }
    }

    /// <summary>Whether two addresses of one length are equal.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool IsSameAs(in OscAddressKey other) => _bytes == other._bytes;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Crc(ref byte one, ref byte other) =>
        BitOperations.Crc32C(BitOperations.Crc32C(0, Read(ref one)), Read(ref other));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Read(ref byte eight) => Unsafe.ReadUnaligned<ulong>(ref eight);
}

/// <summary>Two hashes of an address that have little to do with each other.</summary>
/// <param name="One">The first.</param>
/// <param name="Other">The second.</param>
[StructLayout(LayoutKind.Sequential)]
internal readonly record struct OscAddressHash(uint One, uint Other);
