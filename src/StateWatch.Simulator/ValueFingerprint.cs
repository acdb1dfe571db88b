using StateWatch.Core.Settings;

namespace StateWatch.Simulator;

/// <summary>
/// One number over many values, by content: texts count by their characters, so that it does not depend on the order in which texts
/// became known. 64-bit FNV-1a (offset and prime as in RFC 9923), taken over 64-bit words instead of bytes; no protection against intent.
/// </summary>
internal static class ValueFingerprint
{
    private const ulong Offset = 0xCBF2_9CE4_8422_2325;
    private const ulong Prime = 0x0000_0100_0000_01B3;

    public static ulong Of(ReadOnlySpan<SettingValue> values, TextPool texts)
    {
        var hash = Offset;
        foreach (var value in values)
        {
            Add(ref hash, ((ulong)value.Kind << 8) | (ulong)value.Unit);
            if (value.Kind is ValueKind.Choice or ValueKind.Text or ValueKind.Point)
            {
                var text = texts[value.TextId];
                Add(ref hash, (ulong)text.Length);
                foreach (var character in text)
                    Add(ref hash, character);
            }
            else
            {
                Add(ref hash, BitConverter.DoubleToUInt64Bits(value.Number));
                Add(ref hash, unchecked((uint)value.Step));
            }
        }

        return hash;
    }

    // The shift lets high bits act on low ones, which the multiplication alone does not.
    private static void Add(ref ulong hash, ulong word)
    {
        hash = unchecked((hash ^ word) * Prime);
        hash ^= hash >> 29;
    }
}
