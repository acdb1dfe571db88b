namespace StateWatch.Core.Documents;

/// <summary>Finds the word somebody probably meant.</summary>
public static class NearestWord
{
    private const int LongestWord = 64;

    /// <summary>The same, unless so many were looked for in these files already that nobody reads them all.</summary>
    /// <param name="word">The word.</param>
    /// <param name="candidates">What it may have been meant to be; any number of them.</param>
    /// <param name="diagnostics">Where the fault will go; it knows how much may still be compared.</param>
    public static string? Among(string word, IEnumerable<string> candidates, DiagnosticBag diagnostics) =>
        diagnostics.IsFull || diagnostics.Comparable <= 0 ? null : Among(word, Counted(word, candidates, diagnostics));

    private static IEnumerable<string> Counted(string word, IEnumerable<string> candidates, DiagnosticBag diagnostics)
    {
        foreach (var candidate in candidates)
        {
            if (diagnostics.Comparable <= 0)
                yield break;
            diagnostics.Comparable -= Math.Abs(candidate.Length - word.Length) > word.Length / 3 ? 10 : 10 + (candidate.Length * word.Length);
            yield return candidate;
        }
    }

    /// <summary>The candidate with the fewest edits (insert, delete, replace, swap of neighbours), if near enough.</summary>
    /// <returns>The candidate, or null when the word itself is one, or none is within a third of the word's length (at least one edit, but never the whole word).</returns>
    public static string? Among(string word, IEnumerable<string> candidates)
    {
        if (word.Length is 0 or > LongestWord)
            return null;
        string? best = null;
        var bestDistance = Math.Min(Math.Max(1, word.Length / 3) + 1, word.Length);
        foreach (var candidate in candidates)
        {
            if (candidate == word)
                return null;
            if (candidate.Length > LongestWord || Math.Abs(candidate.Length - word.Length) >= bestDistance)
                continue;
            var distance = Distance(word, candidate);
            if (distance >= bestDistance)
                continue;
            best = candidate;
            bestDistance = distance;
        }

        return best;
    }

    private static int Distance(string a, string b)
    {
        Span<int> beforeLast = stackalloc int[b.Length + 1];
        Span<int> last = stackalloc int[b.Length + 1];
        Span<int> row = stackalloc int[b.Length + 1];
        for (var j = 0; j <= b.Length; j++)
            last[j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var same = char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]);
                row[j] = Math.Min(Math.Min(last[j] + 1, row[j - 1] + 1), last[j - 1] + (same ? 0 : 1));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    row[j] = Math.Min(row[j], beforeLast[j - 2] + 1);
            }

            var spare = beforeLast;
            beforeLast = last;
            last = row;
            row = spare;
        }

        return last[b.Length];
    }
}
