namespace StateWatch.Core.Documents;

/// <summary>
/// Finds the setting path somebody probably meant: one word of it misspelled. Another number is never suggested: channel 1 is not what
/// somebody meant who wrote 17.
/// </summary>
public static class NearestPath
{
    /// <summary>The path as written, with the misspelled word put right.</summary>
    /// <param name="path">The path that does not exist.</param>
    /// <param name="candidates">Every path there is.</param>
    /// <param name="written">How the path is written, where numbers may be ranges or placeholders; the same number of words as the path.</param>
    /// <returns>The path, or null when none is near enough.</returns>
    /// <param name="diagnostics">Where the fault will go; it knows how much may still be compared.</param>
    public static string? Among(string path, IEnumerable<string> candidates, string written, DiagnosticBag diagnostics)
    {
        if (diagnostics.IsFull)
            return null;
        var words = path.Split('/');
        var spellings = written.Split('/');
        if (spellings.Length != words.Length)
            return null;
        var meant = new HashSet<string>?[words.Length];
        foreach (var candidate in candidates)
        {
            diagnostics.Comparable -= 30;
            if (diagnostics.Comparable <= 0)
                return null;
            if (OneDifference(words, candidate) is var (place, word))
                (meant[place] ??= new HashSet<string>(StringComparer.Ordinal)).Add(word);
        }

        for (var i = 0; i < words.Length; i++)
        {
            if (meant[i] is { } known && spellings[i] == words[i] && NearestWord.Among(words[i], known.Order(StringComparer.Ordinal), diagnostics) is { } near)
            {
                spellings[i] = near;
                return string.Join('/', spellings);
            }
        }

        return null;
    }

    private static (int Place, string Word)? OneDifference(string[] words, ReadOnlySpan<char> candidate)
    {
        (int Place, string Word)? found = null;
        for (var i = 0; i < words.Length; i++)
        {
            var end = candidate.IndexOf('/');
            if (end < 0 != (i == words.Length - 1))
                return null;
            var word = end < 0 ? candidate : candidate[..end];
            candidate = candidate[(end + 1)..];
            if (word.SequenceEqual(words[i]))
                continue;
            if (found is not null || !NumberOf(words[i]).SequenceEqual(NumberOf(word)))
                return null;
            found = (i, word.ToString());
        }

        return found;
    }

    // "stage-7" and "7" end in a number; "#" stands for any.
    private static ReadOnlySpan<char> NumberOf(ReadOnlySpan<char> word) => word[word.TrimEnd("0123456789#").Length..];
}
