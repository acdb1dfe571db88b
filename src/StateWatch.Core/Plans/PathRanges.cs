using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Setting paths with ranges, as plans write them: <c>input/1-8/gate/on</c>, <c>output/stage-1-2/eq/in</c>.</summary>
public static class PathRanges
{
    private const int MostPaths = 100_000;

    /// <summary>Every path that is meant, or null when the text cannot be a path.</summary>
    /// <param name="path">The path as written.</param>
    /// <param name="limit">How much the plan may still ask for.</param>
    /// <exception cref="PlanTooLargeException">It is more than that.</exception>
    internal static IReadOnlyList<string>? Expand(ScalarNode path, WorkLimit limit)
    {
        limit.Spend(Count(path.Text), path.At);
        return Expand(path.Text);
    }

    private static long Count(string text)
    {
        var count = 1L;
        foreach (var segment in text.AsSpan().Split('/'))
        {
            var (_, first, last) = Split(text[segment]);
            count = Math.Min(count * (last - first + 1), int.MaxValue);
        }

        return count;
    }

    /// <summary>Every path that is meant, or null when the text cannot be a path.</summary>
    public static IReadOnlyList<string>? Expand(string text)
    {
        if (text.Length is 0 or > 64 || !text.Contains('/', StringComparison.Ordinal))
            return null;
        List<string> paths = [""];
        foreach (var segment in text.Split('/'))
        {
            if (segment.Length == 0)
                return null;
            var (lead, first, last) = Split(segment);
            if ((long)paths.Count * (last - first + 1) > MostPaths)
                return null;
            var longer = new List<string>(paths.Count * (last - first + 1));
            foreach (var path in paths)
            {
                var prefix = path.Length == 0 ? "" : path + "/";
                if (first == 0)
                    longer.Add(prefix + segment);
                for (var number = first; number > 0 && number <= last; number++)
                    longer.Add($"{prefix}{lead}{number}");
            }

            paths = longer;
        }

        return paths;
    }

    // "1-8" is a range of strips, "stage-1-2" a range of a bank, "stage-1" and "low-cut" are themselves.
    private static (string Lead, int First, int Last) Split(string segment)
    {
        if (NumberRange.TryParse(segment, out var first, out var last))
            return ("", first, last);
        var dash = segment.IndexOf('-', StringComparison.Ordinal);
        return dash > 0 && NumberRange.TryParse(segment.AsSpan(dash + 1), out first, out last) ? (segment[..(dash + 1)], first, last) : ("", 0, 0);
    }
}
