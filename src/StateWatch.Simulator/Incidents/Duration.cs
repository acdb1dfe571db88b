using System.Globalization;

namespace StateWatch.Simulator.Incidents;

/// <summary>Reads <c>5 s</c>, <c>250 ms</c>, <c>1.5 min</c>.</summary>
internal static class Duration
{
    /// <summary>The longest that is read.</summary>
    public static readonly TimeSpan Most = TimeSpan.FromHours(24);

    /// <summary>Reads a time that is not negative and at most a day.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out TimeSpan duration)
    {
        duration = default;
        var digits = text.TrimEnd("smin");
        var second = text[digits.Length..] switch
        {
            "ms" => 0.001,
            "s" => 1d,
            "min" => 60d,
            _ => 0d,
        };
        if (second == 0 || !double.TryParse(digits.TrimEnd(' '), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            || !(number * second <= Most.TotalSeconds))
            return false;
        duration = TimeSpan.FromSeconds(number * second);
        return true;
    }
}
