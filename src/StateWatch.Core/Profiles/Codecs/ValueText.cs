using System.Globalization;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>Canonical texts of values: <c>-10.0 dB</c>, <c>-inf dB</c>, <c>on</c>, <c>6.2 ms</c>, <c>stage 12</c>.</summary>
public static class ValueText
{
    private static readonly string[] UnitWords = ["", "dB", "ms", "Hz", "%", "kHz"];

    /// <summary>Writes a value.</summary>
    public static string Format(SettingValue value, TextPool texts) => value.Kind switch
    {
        ValueKind.None => "unknown",
        ValueKind.Level when double.IsNegativeInfinity(value.Number) => "-inf dB",
        ValueKind.Level => FormatNumber(value.Number) + " dB",
        ValueKind.Number => value.Unit == Unit.None ? FormatNumber(value.Number) : $"{FormatNumber(value.Number)} {UnitWords[(int)value.Unit]}",
        ValueKind.Switch => value.IsOn ? "on" : "off",
        _ => texts[value.TextId],
    };

    /// <summary>Reads a number with a unit. kHz reads as Hz and s as ms.</summary>
    /// <param name="text">Such as <c>-10 dB</c>, <c>-inf</c>, <c>2.5 kHz</c>, <c>6.2ms</c>; a bare number takes the wanted unit.</param>
    /// <param name="wanted">The unit that is wanted.</param>
    /// <param name="number">The number in that unit; negative infinity for <c>-inf</c>.</param>
    public static bool TryParseNumber(ReadOnlySpan<char> text, Unit wanted, out double number)
    {
        text = text.Trim();
        var end = text.Length;
        while (end > 0 && (char.IsAsciiLetter(text[end - 1]) || text[end - 1] == '%'))
            end--;
        var unit = text[end..];
        var digits = text[..end].TrimEnd();
        if (unit is "inf" && digits is "-")
        {
            number = double.NegativeInfinity;
            return wanted == Unit.Decibel;
        }

        if (unit is "dB" && digits is "-inf")
        {
            number = double.NegativeInfinity;
            return wanted == Unit.Decibel;
        }

        if (!double.TryParse(digits, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number)
            || !double.IsFinite(number))
            return false;
        if (unit.IsEmpty || unit.SequenceEqual(UnitWords[(int)wanted]))
            return true;
        var scale = wanted == Unit.Hertz && unit is "kHz" ? 1000 : wanted == Unit.Millisecond && unit is "s" ? 1000 : wanted == Unit.Kilohertz && unit is "Hz" ? 0.001 : 0;
        number *= scale;
        return scale != 0;
    }

    /// <summary>The unit of a word.</summary>
    public static bool TryParseUnit(string word, out Unit unit)
    {
        var index = word == "none" ? 0 : Array.IndexOf(UnitWords, word, 1);
        unit = (Unit)Math.Max(0, index);
        return index >= 0;
    }

    /// <summary>The word of a unit.</summary>
    public static string Word(this Unit unit) => UnitWords[(int)unit];

    // One decimal as desks show it; more only where the value has them. -0.0 is written 0.0.
    private static string FormatNumber(double number)
    {
        var text = number.ToString("0.0##", CultureInfo.InvariantCulture);
        return text == "-0.0" ? "0.0" : text;
    }
}
