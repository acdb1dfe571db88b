using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// A moment as 32.32 bit fixed point: whole seconds since 1900-01-01T00:00:00Z and 2^-32 fractions
/// (OSC 1.0, "Temporal Semantics and OSC Time Tags"; the NTP form).
/// </summary>
/// <remarks>
/// The seconds wrap on 2036-02-07T06:28:16Z. As RFC 4330 section 3 proposes, seconds with the top bit clear are taken as counted from
/// that moment, so tags reach from 1968-01-20T03:14:08Z up to 2104-02-26T09:42:24Z. Comparisons follow time, with
/// <see cref="Immediately"/> before everything.
/// </remarks>
/// <param name="Seconds">Whole seconds.</param>
/// <param name="Fraction">Parts of a second in units of 2^-32 s (about 233 ps).</param>
[StructLayout(LayoutKind.Auto)]
public readonly record struct OscTimeTag(uint Seconds, uint Fraction) : IComparable<OscTimeTag>
{
    /// <summary>Bytes on the wire.</summary>
    public const int Size = 8;

    private const long UnixToNtp = 2_208_988_800;
    private const long EraSeconds = 1L << 32;
    private const uint FirstEraBit = 1u << 31;

    /// <summary>The special value 63 zero bits and a one: "act at once" (OSC 1.0, "Temporal Semantics and OSC Time Tags").</summary>
    public static OscTimeTag Immediately => new(0, 1);

    /// <summary>True for <see cref="Immediately"/>.</summary>
    public bool IsImmediately => Seconds == 0 && Fraction == 1;

    /// <summary>The 64 bits as one number.</summary>
    public ulong Bits => ((ulong)Seconds << 32) | Fraction;

    /// <summary>The tag with these 64 bits.</summary>
    public static OscTimeTag FromBits(ulong bits) => new((uint)(bits >> 32), unchecked((uint)bits));

    /// <summary>The tag of a moment in Unix time.</summary>
    /// <param name="seconds">Whole seconds since 1970-01-01T00:00:00Z.</param>
    /// <param name="fraction">Parts of a second in units of 2^-32 s.</param>
    /// <exception cref="ArgumentOutOfRangeException">The moment is outside 1968-01-20 … 2104-02-26.</exception>
    public static OscTimeTag FromUnixSeconds(long seconds, uint fraction = 0)
    {
        const long first = FirstEraBit - UnixToNtp;
        ArgumentOutOfRangeException.ThrowIfLessThan(seconds, first);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(seconds, first + EraSeconds);
        return new OscTimeTag(unchecked((uint)(seconds + UnixToNtp)), fraction);
    }

    /// <summary>The tag of a moment, to the nearest fraction.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The moment is outside 1968-01-20 … 2104-02-26.</exception>
    public static OscTimeTag FromDateTimeOffset(DateTimeOffset moment)
    {
        var seconds = moment.ToUnixTimeSeconds();
        var ticks = (ulong)(moment.UtcTicks - DateTimeOffset.FromUnixTimeSeconds(seconds).UtcTicks);
        var fraction = ((ticks << 32) + (TimeSpan.TicksPerSecond / 2)) / TimeSpan.TicksPerSecond;
        return FromUnixSeconds(seconds, (uint)fraction);
    }

    /// <summary>The moment in UTC to the nearest 100 ns. Has no meaning for <see cref="Immediately"/>.</summary>
    public DateTimeOffset ToDateTimeOffset()
    {
        var seconds = Chronological(Seconds) - UnixToNtp;
        var ticks = (((ulong)Fraction * TimeSpan.TicksPerSecond) + (1UL << 31)) >> 32;
        return DateTimeOffset.FromUnixTimeSeconds(seconds).AddTicks((long)ticks);
    }

    /// <inheritdoc/>
    public int CompareTo(OscTimeTag other)
    {
        if (IsImmediately || other.IsImmediately)
            return other.IsImmediately.CompareTo(IsImmediately);
        var bySeconds = Chronological(Seconds).CompareTo(Chronological(other.Seconds));
        return bySeconds != 0 ? bySeconds : Fraction.CompareTo(other.Fraction);
    }

    /// <summary>Earlier than.</summary>
    public static bool operator <(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) < 0;

    /// <summary>Later than.</summary>
    public static bool operator >(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) > 0;

    /// <summary>Earlier than or the same.</summary>
    public static bool operator <=(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) <= 0;

    /// <summary>Later than or the same.</summary>
    public static bool operator >=(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) >= 0;

    internal static OscTimeTag Read(ReadOnlySpan<byte> bytes) => FromBits(BinaryPrimitives.ReadUInt64BigEndian(bytes));

    private static long Chronological(uint seconds) => seconds < FirstEraBit ? seconds + EraSeconds : seconds;
}
