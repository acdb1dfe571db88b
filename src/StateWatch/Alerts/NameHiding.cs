using System.Text.RegularExpressions;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>
/// Keeps people's names out of what leaves the machine, where that is asked for: the planned name of the strip, what the desk or the plan has as a strip's
/// name, every name of the plans, and who acknowledged or put aside. Where a name stood in a text there is the strip, or an ellipsis. What is in no plan and
/// on no strip it cannot know. Texts come out harmless and in whole characters, names hidden or not.
/// </summary>
internal sealed class NameHiding
{
    private const string Hidden = "…";

    // A shorter name could be a part of any word: it is hidden where it stands alone.
    private const int ShortestPart = 3;

    private static readonly TimeSpan MatchLimit = TimeSpan.FromSeconds(1);

    private readonly bool _hides;
    private readonly Func<IReadOnlyCollection<string>> _planned;

    /// <summary>Hides names, or shows them.</summary>
    /// <param name="hides">Which of the two.</param>
    /// <param name="planned">All names that the watched plans give to strips; null when that is not known.</param>
    public NameHiding(bool hides, Func<IReadOnlyCollection<string>>? planned = null)
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
        if (words?.Name is { } own)
            text = Replace(text, own, words.Strip ?? Hidden);
        foreach (var name in Values(words).Concat(_planned()).OrderByDescending(static name => name.Length))
            text = Replace(text, name, Hidden);
        return PlainText.Clean(text);
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

    private static bool IsName(AlertWords words) => words.Setting is { } setting && setting.EndsWith("/name", StringComparison.Ordinal);

    private static IEnumerable<string> Values(AlertWords? words) =>
        words is null || !IsName(words) ? [] : new[] { words.Planned, words.Live }.OfType<string>();

    private static string Replace(string text, string name, string by)
    {
        name = name.Trim();
        if (name.Length == 0 || text.Length == 0)
            return text;
        if (name.Length >= ShortestPart)
            return text.Replace(name, by, StringComparison.OrdinalIgnoreCase);
        return Regex.Replace(text, $@"(?<![\p{{L}}\p{{N}}]){Regex.Escape(name)}(?![\p{{L}}\p{{N}}])", _ => by, RegexOptions.IgnoreCase, MatchLimit);
    }
}
