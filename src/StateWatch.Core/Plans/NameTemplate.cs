using System.Globalization;

namespace StateWatch.Core.Plans;

/// <summary>Names of ranges: <c>{n}</c> counts from 1, <c>{side}</c> is L or R, <c>{ch}</c> is the channel's own number.</summary>
public static class NameTemplate
{
    /// <summary>The placeholders there are.</summary>
    public static IReadOnlyList<string> Placeholders { get; } = ["n", "side", "ch"];

    /// <summary>Writes the name of one strip of a range.</summary>
    /// <param name="template">The name as planned.</param>
    /// <param name="index">Position in the range, from 0.</param>
    /// <param name="number">The strip's number.</param>
    /// <param name="stereo">Whether the range is made of pairs: then <c>{n}</c> counts pairs when <c>{side}</c> is there too.</param>
    public static string Expand(string template, int index, int number, bool stereo)
    {
        if (!template.Contains('{', StringComparison.Ordinal))
            return template;
        var paired = stereo && template.Contains("{side}", StringComparison.Ordinal);
        return template
            .Replace("{n}", ((paired ? index / 2 : index) + 1).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{side}", index % 2 == 0 ? "L" : "R", StringComparison.Ordinal)
            .Replace("{ch}", number.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);
    }

    /// <summary>What a name has besides its placeholders: <c>Handheld</c> of <c>Handheld {n}</c>; null when it has none.</summary>
    public static string? Stem(string template)
    {
        if (!template.Contains('{', StringComparison.Ordinal))
            return null;
        foreach (var word in Placeholders)
            template = template.Replace($"{{{word}}}", "", StringComparison.Ordinal);
        return string.Join(' ', template.Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>The first placeholder that is none of ours, or null.</summary>
    public static string? FirstUnknown(string template)
    {
        for (var open = template.IndexOf('{', StringComparison.Ordinal); open >= 0; open = template.IndexOf('{', open + 1))
        {
            var close = template.IndexOf('}', open);
            var word = close < 0 ? template[(open + 1)..] : template[(open + 1)..close];
            if (!Placeholders.Contains(word))
                return word;
        }

        return null;
    }
}
