namespace StateWatch.Core.Auditing;

/// <summary>How sentences begin and count.</summary>
internal static class Sentences
{
    /// <summary>The text with a capital first letter.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>The first of several names: <c>Kick, Snare and 14 more</c>.</summary>
    public static string Few(IReadOnlyList<string> names, int most) =>
        names.Count <= most ? string.Join(", ", names) : $"{string.Join(", ", names.Take(most))} and {names.Count - most} more";

    /// <summary>A count with its noun: <c>1 thing</c>, <c>1,204 settings</c>.</summary>
    public static string Count(long number, string noun) => $"{number:N0} {noun}{(number == 1 ? "" : "s")}";
}
