using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// One argument as a view of its bytes (OSC 1.0, "OSC Arguments"). A property asked for another type than <see cref="Type"/> is zero or empty.
/// </summary>
[SuppressMessage("Naming", "CA1720", Justification = "These are the names the specification gives its types.")]
public readonly ref struct OscArgument
{
    /// <summary>As many bytes as the type has; text without its nulls, a blob without its count.</summary>
    private readonly ReadOnlySpan<byte> _data;

    internal OscArgument(OscType type, ReadOnlySpan<byte> data)
    {
        Type = type;
        _data = data;
    }

    /// <summary>What the type tag says. <see cref="OscType.None"/> only for a default value.</summary>
    public OscType Type { get; }

    /// <summary>The number of <c>i</c>; the code of <c>c</c>; the four bytes of <c>r</c> and <c>m</c> as one big-endian number.</summary>
    public int Int32 => Type is OscType.Int32 or OscType.Char or OscType.Colour or OscType.Midi
        ? BinaryPrimitives.ReadInt32BigEndian(_data)
        : 0;

    /// <summary>The number of <c>f</c>: any IEEE 754 value, also not-a-number and infinity.</summary>
    public float Float32 => Type == OscType.Float32 ? BinaryPrimitives.ReadSingleBigEndian(_data) : 0f;

    /// <summary>The number of <c>h</c>.</summary>
    public long Int64 => Type == OscType.Int64 ? BinaryPrimitives.ReadInt64BigEndian(_data) : 0;

    /// <summary>The number of <c>d</c>: any IEEE 754 value, also not-a-number and infinity.</summary>
    public double Float64 => Type == OscType.Float64 ? BinaryPrimitives.ReadDoubleBigEndian(_data) : 0d;

    /// <summary>The moment of <c>t</c>.</summary>
    public OscTimeTag TimeTag => Type == OscType.TimeTag ? OscTimeTag.Read(_data) : default;

    /// <summary>The text of <c>s</c> and <c>S</c> without nulls, the content of <c>b</c>, the four bytes of <c>m</c> and <c>r</c>.</summary>
    public ReadOnlySpan<byte> Bytes =>
        Type is OscType.String or OscType.Symbol or OscType.Blob or OscType.Midi or OscType.Colour ? _data : default;

    /// <summary>
    /// The value as a number when the type is <c>i</c>, <c>f</c>, <c>h</c> (rounded above 2^53), <c>d</c>, <c>T</c> (1) or <c>F</c> (0).
    /// Not-a-number and infinity pass through.
    /// </summary>
    public bool TryGetNumber(out double value)
    {
        switch (Type)
        {
            case OscType.Float32:
                value = BinaryPrimitives.ReadSingleBigEndian(_data);
                return true;
            case OscType.Int32:
                value = BinaryPrimitives.ReadInt32BigEndian(_data);
                return true;
            case OscType.Int64:
                value = BinaryPrimitives.ReadInt64BigEndian(_data);
                return true;
            case OscType.Float64:
                value = BinaryPrimitives.ReadDoubleBigEndian(_data);
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
