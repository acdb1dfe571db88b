using System.Globalization;

namespace StateWatch.Core.Settings;

/// <summary>Reads <c>7</c> and <c>1-17</c>.</summary>
public static class NumberRange
{
    /// <summary>Reads one number or a rising range, from 1.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out int first, out int last)
    {
        var dash = text.IndexOf('-');
        first = last = 0;
        if (dash < 0)
        {
            var good = int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out first);
            last = first;
            return good && first is >= 1 and <= 9999;
        }

        return int.TryParse(text[..dash], NumberStyles.None, CultureInfo.InvariantCulture, out first)
            && int.TryParse(text[(dash + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out last)
            && first >= 1 && last >= first && last <= 9999;
    }
}
