using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace StateWatch.Protocol.Osc;

/// <summary>Looks through short strings without a call, which would cost more than the search itself.</summary>
internal static class OscScan
{
    /// <summary>Whether <see cref="FirstNull"/> can be asked.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool IsQuick(ReadOnlySpan<byte> bytes) => Vector256.IsHardwareAccelerated && bytes.Length is >= 16 and <= 64;

    /// <summary>The index of the first null, or 64 when there is none, of 16 to 64 bytes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int FirstNull(ReadOnlySpan<byte> bytes)
    {
        // Two loads that overlap in the middle cover every byte once or twice.
        var nulls = bytes.Length <= 32
            ? Nulls(Vector128.Create(bytes)) | ((ulong)Nulls(Vector128.Create(bytes.Slice(unchecked(bytes.Length - 16), 16))) << unchecked(bytes.Length - 16))
            : Nulls(Vector256.Create(bytes)) | ((ulong)Nulls(Vector256.Create(bytes.Slice(unchecked(bytes.Length - 32), 32))) << unchecked(bytes.Length - 32));
        return BitOperations.TrailingZeroCount(nulls);
    }

    /// <summary>Copies text, and tells whether no null is inside; quick for 8 to 32 bytes.</summary>
    /// <param name="text">What to copy.</param>
    /// <param name="destination">At least as long.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool CopyWithoutNull(ReadOnlySpan<byte> text, Span<byte> destination)
    {
        // With this checked, all places below are inside. Spans would check each of them again, which was measured.
        if (text.Length is < 8 or > 32 || text.Length > destination.Length)
            return CopyOther(text, destination);
        ref var from = ref MemoryMarshal.GetReference(text);
        ref var to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> lowest;
        if (text.Length >= 16)
        {
            var at = unchecked((nuint)text.Length - 16);
            var first = Vector128.LoadUnsafe(ref from);
            var last = Vector128.LoadUnsafe(ref from, at);
            first.StoreUnsafe(ref to);
            last.StoreUnsafe(ref to, at);
            lowest = Vector128.Min(first, last);
        }
        else
        {
            var at = unchecked((uint)text.Length - 8);
            var first = Unsafe.ReadUnaligned<ulong>(ref from);
            var last = Unsafe.ReadUnaligned<ulong>(ref Unsafe.Add(ref from, at));
            Unsafe.WriteUnaligned(ref to, first);
            Unsafe.WriteUnaligned(ref Unsafe.Add(ref to, at), last);
            lowest = Vector128.Create(first, last).AsByte();
        }

        return !Vector128.EqualsAny(lowest, Vector128<byte>.Zero);
    }

    private static bool CopyOther(ReadOnlySpan<byte> text, Span<byte> destination)
    {
        text.CopyTo(destination);
        return !text.Contains((byte)0);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Nulls(Vector128<byte> bytes) => Vector128.Equals(bytes, Vector128<byte>.Zero).ExtractMostSignificantBits();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Nulls(Vector256<byte> bytes) => Vector256.Equals(bytes, Vector256<byte>.Zero).ExtractMostSignificantBits();
}
