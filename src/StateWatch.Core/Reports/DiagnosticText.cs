using System.Text;
using StateWatch.Core.Auditing;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Reports;

/// <summary>
/// Faults of files as text: place, level and code, message; the line with a caret under the place; what to do. Sorted by file and
/// place, with a count at the end.
/// </summary>
public static class DiagnosticText
{
    private const string Indent = "    ";

    /// <summary>Writes the text, lines ended by <c>\n</c>.</summary>
    /// <param name="bag">The faults.</param>
    /// <param name="source">Finds the text of a file by the name in a fault's place, for the excerpt; may return null.</param>
    /// <param name="colour">Whether to colour the level; its word always stands there too.</param>
    public static string Write(DiagnosticBag bag, Func<string, SourceText?> source, bool colour = false)
    {
        var text = new StringBuilder();
        foreach (var item in bag.Items.OrderBy(item => item.At.File, StringComparer.Ordinal).ThenBy(item => item.At.Place.Line).ThenBy(item => item.At.Place.Column))
            WriteItem(text, item, source(item.At.File), colour);
        text.Append($"{Count(bag, DiagnosticLevel.Error, "error")}, {Count(bag, DiagnosticLevel.Warning, "warning")}, {Count(bag, DiagnosticLevel.Notice, "notice")}");
        if (bag.Dropped > 0)
            text.Append($", and {bag.Dropped:N0} more that are not shown");
        return text.Append('\n').ToString();
    }

    private static void WriteItem(StringBuilder text, Diagnostic item, SourceText? source, bool colour)
    {
        var level = item.Code.Level.ToString().ToLowerInvariant();
        var place = item.At.Place;
        text.Append(PlainText.Clean(item.At.File)).Append(':');
        if (place.Line > 0)
            text.Append(place.Line).Append(':');
        if (place is { Line: > 0, Column: > 0 })
            text.Append(place.Column).Append(':');
        text.Append(' ').Append(colour ? TintOf(item.Code.Level).Paint(level) : level).Append(' ').Append(item.Code.Id).Append(": ").Append(PlainText.Clean(item.Message)).Append('\n');
        if (source is not null && place.Line > 0 && SourceExcerpt.Of(source.Line(place.Line), place.Column) is { } excerpt)
        {
            text.Append(Indent).Append(excerpt.Line).Append('\n');
            if (excerpt.Caret >= 0)
                text.Append(Indent).Append(' ', excerpt.Caret).Append("^\n");
        }

        if (item.Advice is not null)
            text.Append(Indent).Append(PlainText.Clean(item.Advice)).Append('\n');
        if (item.Suggestion is not null && item.Advice?.Contains("did you mean", StringComparison.Ordinal) != true)
            text.Append(Indent).Append($"did you mean '{PlainText.Clean(item.Suggestion)}'?\n");
    }

    private static Tint TintOf(DiagnosticLevel level) => level switch
    {
        DiagnosticLevel.Error => Tint.Urgent,
        DiagnosticLevel.Warning => Tint.Warning,
        _ => Tint.Strong,
    };

    private static string Count(DiagnosticBag bag, DiagnosticLevel level, string noun) => Sentences.Count(bag.Items.Count(item => item.Code.Level == level), noun);
}
