using StateWatch.Core.Documents;
using StateWatch.Core.Reports;

namespace StateWatch.Control;

/// <summary>Finds the finding that somebody means: by its key (<c>site/desk/rule:subject</c>), its id (<c>rule:subject</c>), or the beginning of either.</summary>
internal static class FindingNames
{
    private const int MostListed = 8;

    /// <summary>Finds it.</summary>
    /// <param name="given">What was typed.</param>
    /// <param name="candidates">What it may mean: desk and key of each.</param>
    /// <returns>The desk and key, or, when there is none or more than one, what to type instead.</returns>
    public static (string Desk, string Key, string? Problem) Find(string given, IReadOnlyList<(string Desk, string Key)> candidates)
    {
        if (string.IsNullOrWhiteSpace(given))
            return ("", "", "say which finding: its id from 'statewatch status', or the beginning of it");
        foreach (var isMeant in (Func<(string Desk, string Key), bool>[])[
            item => item.Key == given,
            item => IdOf(item) == given,
            item => IdOf(item).StartsWith(given, StringComparison.Ordinal) || item.Key.StartsWith(given, StringComparison.Ordinal),
            item => SubjectOf(item).StartsWith(given, StringComparison.Ordinal)])
        {
            var found = candidates.Where(isMeant).Distinct().ToList();
            if (found.Count == 1)
                return (found[0].Desk, found[0].Key, null);
            if (found.Count > 1)
                return ("", "", $"'{PlainText.Clean(given, 100)}' may mean {found.Count}: {string.Join(", ", found.Take(MostListed).Select(item => IsOneDesk(found) ? IdOf(item) : item.Key))}{(found.Count > MostListed ? ", …" : "")}; write more of it");
        }

        if (candidates.Count == 0)
            return ("", "", "no finding stands that it could mean");
        var near = NearestWord.Among(given, candidates.SelectMany(static item => (string[])[IdOf(item), item.Key]));
        return ("", "", $"no finding that stands is called '{PlainText.Clean(given, 100)}'; {(near is null ? "'statewatch status' lists them" : $"did you mean '{near}'?")}");
    }

    private static bool IsOneDesk(List<(string Desk, string Key)> found) => found.TrueForAll(item => item.Desk == found[0].Desk);

    private static string IdOf((string Desk, string Key) item) => item.Key[(item.Desk.Length + 1)..];

    private static string SubjectOf((string Desk, string Key) item) => item.Key[(item.Key.IndexOf(':', StringComparison.Ordinal) + 1)..];
}
