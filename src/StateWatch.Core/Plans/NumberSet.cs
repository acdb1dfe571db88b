using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Numbers as plans write them: <c>7</c>, <c>1-17</c>, <c>1-4, 7, 9-10</c>.</summary>
public static class NumberSet
{
    /// <summary>The most numbers one set may name.</summary>
    public const int Most = 4096;

    /// <summary>Reads a set in the order written; a number may stand once.</summary>
    public static bool TryParse(string text, out int[] numbers)
    {
        var found = new List<int>();
        var seen = text.Contains(',', StringComparison.Ordinal) ? new HashSet<int>() : null;
        numbers = [];
        foreach (var part in text.AsSpan().Split(','))
        {
            if (!NumberRange.TryParse(text.AsSpan(part).Trim(), out var first, out var last) || found.Count + last - first >= Most)
                return false;
            for (var number = first; number <= last; number++)
            {
                if (seen?.Add(number) == false)
                    return false;
                found.Add(number);
            }
        }

        numbers = [.. found];
        return true;
    }

    /// <summary>A word and a set as they were probably meant: <c>mxi 1-4</c> and <c>mix1-4</c> are <c>mix 1-4</c>; null when nothing is near.</summary>
    public static string? Respell(string text, IEnumerable<string> words)
    {
        var end = text.IndexOfAny([' ', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
        if (end <= 0 || !TryParse(text[end..], out _))
            return null;
        var word = text[..end];
        var meant = words.Contains(word) ? word : NearestWord.Among(word, words);
        return meant is null ? null : $"{meant} {text[end..].TrimStart()}";
    }

    /// <summary>Reads a word and a set, such as <c>mix 1-4</c>, <c>stage 7</c> or <c>local 1, 3</c>.</summary>
    public static bool TryParseWithWord(string text, out string word, out int[] numbers)
    {
        var blank = text.IndexOf(' ', StringComparison.Ordinal);
        word = blank > 0 ? text[..blank] : "";
        numbers = [];
        return blank > 0 && TryParse(text[(blank + 1)..], out numbers);
    }
}
