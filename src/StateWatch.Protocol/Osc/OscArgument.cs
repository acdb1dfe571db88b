using System.Diagnostics.CodeAnalysis;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// One argument as a view of its bytes (OSC 1.0, "OSC Arguments"). A property asked for another type than <see cref="Type"/> is zero or empty.
/// </summary>
[SuppressMessage("Naming", "CA1720", Justification = "These are the names the specification gives its types.")]
public readonly ref struct OscArgument
{
    private readonly long _bits;

    internal OscArgument(OscType type, long bits)
    {
        Type = type;
        _bits = bits;
    }

    internal OscArgument(OscType type, ReadOnlySpan<byte> bytes)
    {
        Type = type;
        Bytes = bytes;
    }

    internal OscArgument(OscType type, int bits, ReadOnlySpan<byte> bytes)
    {
        Type = type;
        _bits = bits;
        Bytes = bytes;
    }

    /// <summary>What the type tag says. <see cref="OscType.None"/> only for a default value.</summary>
    public OscType Type { get; }

    /// <summary>The number of <c>i</c>; the code of <c>c</c>; the four bytes of <c>r</c> and <c>m</c> as one big-endian number.</summary>
    public int Int32 => Type is OscType.Int32 or OscType.Char or OscType.Colour or OscType.Midi ? (int)_bits : 0;

    /// <summary>The number of <c>f</c>: any IEEE 754 value, also not-a-number and infinity.</summary>
    public float Float32 => Type == OscType.Float32 ? BitConverter.Int32BitsToSingle((int)_bits) : 0f;

    /// <summary>The number of <c>h</c>.</summary>
    public long Int64 => Type == OscType.Int64 ? _bits : 0;

    /// <summary>The number of <c>d</c>: any IEEE 754 value, also not-a-number and infinity.</summary>
    public double Float64 => Type == OscType.Float64 ? BitConverter.Int64BitsToDouble(_bits) : 0d;

    /// <summary>The moment of <c>t</c>.</summary>
    public OscTimeTag TimeTag => Type == OscType.TimeTag ? OscTimeTag.FromBits(unchecked((ulong)_bits)) : default;

    /// <summary>The text of <c>s</c> and <c>S</c> without nulls, the content of <c>b</c>, the four bytes of <c>m</c> and <c>r</c>.</summary>
    public ReadOnlySpan<byte> Bytes { get; }

    /// <summary>
    /// The value as a number when the type is <c>i</c>, <c>f</c>, <c>h</c> (rounded above 2^53), <c>d</c>, <c>T</c> (1) or <c>F</c> (0).
    /// Not-a-number and infinity pass through.
    /// </summary>
    public bool TryGetNumber(out double value)
    {
        switch (Type)
        {
            case OscType.Float32:
                value = BitConverter.Int32BitsToSingle((int)_bits);
                return true;
            case OscType.Int32:
            case OscType.Int64:
                value = _bits;
                return true;
            case OscType.Float64:
                value = BitConverter.Int64BitsToDouble(_bits);
                return true;
            case OscType.True:
                value = 1;
                return true;
            case OscType.False:
                value = 0;
                return true;
            default:
                value = 0;
                return false;
        }
    }
}
