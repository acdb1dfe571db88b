namespace StateWatch.Core.Profiles;

/// <summary>
/// A setting path with stars: <c>input/*/fader</c>, <c>socket/stage-*/phantom</c>, <c>desk/*</c>. A star stands for a run of characters
/// within one part; a last part that is only a star stands for all that follows.
/// </summary>
internal static class SettingPattern
{
    public static bool Matches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> path)
    {
        while (true)
        {
            var patternEnd = pattern.IndexOf('/');
            var pathEnd = path.IndexOf('/');
            if (patternEnd < 0 && pattern is "*")
                return path.Length > 0;
            if (patternEnd < 0 || pathEnd < 0)
                return patternEnd == pathEnd && PartMatches(pattern, path);
            if (!PartMatches(pattern[..patternEnd], path[..pathEnd]))
                return false;
            pattern = pattern[(patternEnd + 1)..];
            path = path[(pathEnd + 1)..];
        }
    }

    private static bool PartMatches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> part)
    {
        var star = pattern.IndexOf('*');
        if (star < 0)
            return pattern.SequenceEqual(part);
        // Only the first star of a part counts as one; the reader refuses a second.
        var before = pattern[..star];
        var after = pattern[(star + 1)..];
        return part.Length >= before.Length + after.Length && part.StartsWith(before) && part.EndsWith(after);
    }
}
