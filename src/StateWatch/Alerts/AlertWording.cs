using StateWatch.Core.Findings;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>Alerts in the words of people and of types.</summary>
internal static class AlertWording
{
    private const int LinesNamed = 3;

    /// <summary>The word of what is told.</summary>
    public static string Word(LevelKind kind) => kind switch
    {
        LevelKind.Raised => "raised",
        LevelKind.Acknowledged => "acknowledged",
        LevelKind.Held => "held",
        LevelKind.Unstable => "unstable",
        LevelKind.Lapsed => "lapsed",
        _ => "cleared",
    };

    /// <summary>The word of where a finding stands.</summary>
    public static string Word(Condition condition) => condition switch
    {
        Condition.Pending => "pending",
        Condition.Active => "active",
        Condition.Clearing => "clearing",
        _ => "normal",
    };

    /// <summary>What is wrong, in one line; of a digest, how much it tells and its first lines.</summary>
    public static string Text(Alert alert, NameHiding names)
    {
        if (alert.Told.Digest is not { } lines)
            return Text(alert.Words, alert.Told.Key, names);
        var texts = lines.Select((line, number) => $"{(line.Passed > 0 ? $"came and went {line.Passed}x" : Word(line.Level.Kind))}: {Text(WordsOf(alert, number), line.Key, names)}");
        var named = string.Join("; ", texts.Take(LinesNamed));
        return lines.Count > LinesNamed ? $"{lines.Count} findings: {named}; and {lines.Count - LinesNamed} more" : $"{lines.Count} findings: {named}";
    }

    /// <summary>What is wrong, in one line; without words, what the finding is called.</summary>
    public static string Text(AlertWords? words, string key, NameHiding names) =>
        words is null ? FindingKeys.IdOf(key) : names.Hide(words.Text, words);

    /// <summary>The words of one line of a digest, or null.</summary>
    public static AlertWords? WordsOf(Alert digest, int line) => line < digest.DigestWords.Count ? digest.DigestWords[line] : null;
}
