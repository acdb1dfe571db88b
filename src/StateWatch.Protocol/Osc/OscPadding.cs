using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace StateWatch.Protocol.Osc;

/// <summary>The nulls that fill strings and blobs up to a multiple of four (OSC 1.0, OSC-string and OSC-blob).</summary>
internal static class OscPadding
{
    /// <summary>Where a string ends, padding included, whose first null is at <paramref name="firstNull"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int End(int firstNull) => unchecked((firstNull & ~3) + 4);

    /// <summary>Whether the word holding <paramref name="first"/> is null from there on.</summary>
    /// <param name="bytes">A multiple of four in length, with <paramref name="first"/> inside.</param>
    /// <param name="first">The index of the first byte that must be null.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool IsNull(ReadOnlySpan<byte> bytes, int first)
    {
        var word = BinaryPrimitives.ReadUInt32BigEndian(bytes[(first & ~3)..]);
        return word << ((first & 3) * 8) == 0;
    }
}
