using System.Globalization;
using System.Text;

namespace StateWatch.Core.Reports;

/// <summary>One line of a file for a message, with the place in it.</summary>
/// <param name="Line">The line, cut around the place when long; one visible character for each of the file's.</param>
/// <param name="Caret">How far from its start the place is; -1 for none.</param>
internal readonly record struct SourceExcerpt(string Line, int Caret)
{
    /// <summary>The widest excerpt, in characters.</summary>
    public const int Widest = 96;

    private const int Before = 60;

    /// <summary>Cuts an excerpt.</summary>
    /// <param name="line">The whole line.</param>
    /// <param name="column">Column of the place, from 1; 0 for none.</param>
    /// <returns>Null when the line holds nothing to show.</returns>
    public static SourceExcerpt? Of(ReadOnlySpan<char> line, int column)
    {
        if (line.Trim().IsEmpty)
            return null;
        var at = column > 0 ? Math.Min(column - 1, line.Length) : -1;
        var start = line.Length <= Widest ? 0 : Math.Clamp(at - Before, 0, line.Length - Widest);
        if (start > 0 && char.IsLowSurrogate(line[start]))
            start--;
        var end = Math.Min(line.Length, start + Widest);
        if (end < line.Length && char.IsHighSurrogate(line[end - 1]))
            end--;
        var text = new StringBuilder(start > 0 ? "…" : "");
        var cells = text.Length;
        var caret = at >= 0 && at <= start ? cells : -1;
        var place = start;
        foreach (var rune in line[start..end].EnumerateRunes())
        {
            text.Append(Visible(rune));
            cells++;
            place += rune.Utf16SequenceLength;
            if (at > start && caret < 0 && at <= place)
                caret = cells;
        }

        if (at > place)
            caret = cells;
        return new SourceExcerpt(text.Append(end < line.Length ? "…" : "").ToString().TrimEnd(), caret);
    }

    private static string Visible(Rune rune) => rune.Value is ' ' or '\t' ? " " : Rune.GetUnicodeCategory(rune) switch
    {
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
            or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned or UnicodeCategory.Surrogate => "�",
        _ => rune.ToString(),
    };
}
