using System.Globalization;
using System.Text;

namespace StateWatch.Core.Reports;

/// <summary>
/// Makes text from a desk or file harmless on a terminal: a name may hold escape sequences, line breaks or marks that turn the
/// writing direction. Such characters are shown as <c>\x1B</c> or <c>\u202E</c>, never sent.
/// </summary>
public static class PlainText
{
    /// <summary>The most characters of one text that are shown, unless told otherwise.</summary>
    public const int Longest = 4000;

    /// <summary>The text with every control and invisible character written out.</summary>
    /// <param name="text">Any text.</param>
    /// <param name="most">The most characters that are shown; a longer text ends in "…".</param>
    public static string Clean(string text, int most = Longest)
    {
        if (text.Length <= most && !NeedsCleaning(text))
            return text;
        var clean = new StringBuilder(text.Length + 16);
        foreach (var rune in text.EnumerateRunes())
        {
            if (clean.Length >= most)
                return clean.Append('…').ToString();
            if (IsVisible(rune))
                clean.Append(rune.ToString());
            else
                clean.Append(rune.Value < 0x100 ? $"\\x{rune.Value:X2}" : $"\\u{rune.Value:X4}");
        }

        return clean.ToString();
    }

    private static bool NeedsCleaning(string text)
    {
        foreach (var character in text)
        {
            if (char.IsSurrogate(character) || !IsVisible(new Rune(character)))
                return true;
        }

        return false;
    }

    private static bool IsVisible(Rune rune) => rune.Value == ' ' || Rune.GetUnicodeCategory(rune) is not (
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
        or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned or UnicodeCategory.Surrogate);
}
