using System.Text;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>A name that a plan gives to a strip.</summary>
/// <param name="Name">The name.</param>
/// <param name="Strip">The strip's path.</param>
internal readonly record struct PlannedName(string Name, string Strip);

/// <summary>
/// Keeps people's names out of what leaves the machine, where that is asked for: the planned name of the strip, what the desk or the plan has as a strip's
/// name, every name of the plans, and who acknowledged or put aside. Where a name stood in a text there is the strip's number (<c>input 12</c>), or an ellipsis. What is in no plan
/// and on no strip it cannot know, and keys of feeds stay. Texts come out harmless and in whole characters, names hidden or not.
/// </summary>
internal sealed class NameHiding
{
    private const string Hidden = "…";

    private readonly bool _hides;
    private readonly Func<IReadOnlyCollection<PlannedName>> _planned;

    /// <summary>Hides names, or shows them.</summary>
    /// <param name="hides">Which of the two.</param>
    /// <param name="planned">All names that the watched plans give to strips; null when that is not known.</param>
    public NameHiding(bool hides, Func<IReadOnlyCollection<PlannedName>>? planned = null)
    {
        _hides = hides;
        _planned = planned ?? (static () => []);
    }

    /// <summary>Shows every name.</summary>
    public static NameHiding None { get; } = new(false);

    /// <summary>A text of a finding without the names.</summary>
    public string Hide(string text, AlertWords? words)
    {
        if (!_hides)
            return PlainText.Clean(text);
        var names = Own(words).Concat(_planned()).Select(static one => one with { Name = one.Name.Trim() }).Where(static one => one.Name.Length > 0)
            .OrderByDescending(static one => one.Name.Length).ToArray();
        var clean = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length;)
        {
            if (NameAt(text, i, names) is { } found)
            {
                clean.Append(found.Strip.Replace('/', ' '));
                i += found.Name.Length;
            }
            else
            {
                clean.Append(text[i++]);
            }
        }

        return PlainText.Clean(clean.ToString());
    }

    /// <summary>A planned or live value, unless it is a name.</summary>
    public string? Value(string? value, AlertWords words) => value is null || (_hides && IsName(words)) ? null : Hide(value, words);

    /// <summary>The planned name of the strip, unless names are hidden.</summary>
    public string? Name(AlertWords? words) => _hides || words?.Name is null ? null : PlainText.Clean(words.Name);

    /// <summary>Who did something, unless names are hidden.</summary>
    public string? Person(string? by) => _hides || by is null ? null : PlainText.Clean(by);

    /// <summary>Why something is held or cleared: the word always, what somebody wrote behind it unless names are hidden.</summary>
    public string? Reason(string? why)
    {
        if (why is null)
            return null;
        return _hides && why.IndexOf(':', StringComparison.Ordinal) is var colon and >= 0 ? why[..colon] : PlainText.Clean(why);
    }

    private static IEnumerable<PlannedName> Own(AlertWords? words)
    {
        if (words?.Name is { } name)
            yield return new PlannedName(name, words.Strip ?? Hidden);
        if (words is null || !IsName(words))
            yield break;
        foreach (var value in new[] { words.Planned, words.Live }.OfType<string>())
            yield return new PlannedName(value, Hidden);
    }

    private static bool IsName(AlertWords words) => words.Setting is { } setting && setting.EndsWith("/name", StringComparison.Ordinal);

    // A name stands alone, or with an s of possession behind it; within a word it is another word.
    private static PlannedName? NameAt(string text, int at, PlannedName[] names)
    {
        if (at > 0 && char.IsLetterOrDigit(text[at - 1]))
            return null;
        foreach (var name in names)
        {
            if (string.Compare(text, at, name.Name, 0, name.Name.Length, StringComparison.OrdinalIgnoreCase) != 0)
                continue;
            var end = at + name.Name.Length;
            if (IsEnd(text, end) || (text[end] is 's' && IsEnd(text, end + 1)))
                return name;
        }

        return null;
    }

    private static bool IsEnd(string text, int at) => at >= text.Length || !char.IsLetterOrDigit(text[at]);
}
