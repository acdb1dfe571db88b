using System.Buffers;
using System.Globalization;
using System.Text;
using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Records;

/// <summary>
/// Writes one part of a report as CSV: RFC 4180 with a heading, UTF-8, times as RFC 3339 in UTC. A text that a spreadsheet would take for a formula gets
/// an apostrophe before it, and control characters are written out; levels such as <c>-10.0 dB</c> stay as they are.
/// </summary>
public static class HistoryCsv
{
    private static readonly SearchValues<char> OfNumbers = SearchValues.Create("0123456789. dBHzkms%");

    /// <summary>The table of the one part that was asked for.</summary>
    /// <exception cref="ArgumentException">Several parts were asked for: a table has one heading.</exception>
    public static string Write(HistoryReport report)
    {
        var text = new StringBuilder();
        var question = report.Question;
        switch (question.Parts)
        {
            case HistoryParts.Shows:
                Line(text, "desk", "show", "began", "ended", "end_seen", "seconds", "findings", "urgent", "alarms", "worst_coverage");
                foreach (var show in report.Shows)
                {
                    Line(text, show.Period.Desk, show.Period.Show, Time(show.Period.Began), Time(show.Period.Ended), Flag(show.Period.IsEndSeen), Seconds((show.Period.Ended ?? question.At) - show.Period.Began),
                        Count(show.Findings), Count(show.Urgent), Count(show.Alarms), Share(show.WorstCoverage));
                }

                break;
            case HistoryParts.Changes:
                Line(text, "desk", "strip", "name", "setting", "planned", "changes", "first", "last", "before", "after", "differs");
                foreach (var (strip, move) in report.Changes.SelectMany(static strip => strip.Moves, static (strip, move) => (strip, move)))
                {
                    Line(text, strip.Desk, strip.Strip, strip.Name, move.Setting, Flag(move.IsPlanned), Count(move.Changes), Time(move.First), Time(move.Last), move.Before, move.After, Flag(move.Differs));
                }

                break;
            case HistoryParts.Findings:
                Line(text, "desk", "key", "episode", "severity", "raised", "cleared", "cleared_for", "seconds", "acknowledged_by", "acknowledged", "relapses", "alarms", "holds", "strip", "name", "setting", "planned", "live", "text");
                foreach (var episode in report.Findings)
                {
                    var words = episode.Words;
                    Line(text, episode.Desk, episode.Key, Count(episode.Episode), episode.Severity?.Word(), Time(episode.Raised), Time(episode.Cleared), episode.ClearedFor, Seconds(episode.Stood(question.Time.To)),
                        episode.AcknowledgedBy, Time(episode.AcknowledgedAt), Count(episode.Relapses), Count(episode.Alarms), string.Join(' ', episode.Holds), words?.Strip, words?.Name, words?.Setting, words?.Planned, words?.Live, words?.Text);
                }

                break;
            case HistoryParts.Coverage:
                Line(text, "desk", "from", "to", "samples", "worst", "mean", "cannot_tell");
                foreach (var (desk, part) in report.Coverage.SelectMany(static desk => desk.Parts, static (desk, part) => (desk.Desk, part)))
                    Line(text, desk, Time(part.Time.From), Time(part.Time.To), Count(part.Samples), Share(part.Worst), Share(part.Mean), Count(part.CannotTell));
                break;
            case HistoryParts.Load:
                Line(text, "figure", "text", "value", "unit", "goal", "met", "source");
                foreach (var figure in LoadFigure.Of(report.Load))
                    Line(text, figure.Id, figure.Text, Number(figure.Value), figure.Unit, figure.Goal, figure.IsMet is { } met ? Flag(met) : null, figure.Source);
                break;
            default:
                throw new ArgumentException("a table holds one part", nameof(report));
        }

        return text.ToString();
    }

    private static void Line(StringBuilder text, params ReadOnlySpan<string?> fields)
    {
        for (var i = 0; i < fields.Length; i++)
        {
            if (i > 0)
                text.Append(',');
            text.Append(Field(fields[i] ?? ""));
        }

        text.Append("\r\n");
    }

    /// <summary>A field as it stands in the file.</summary>
    public static string Field(string text)
    {
        text = PlainText.Clean(text);
        if (IsFormula(text))
            text = "'" + text;
        return text.AsSpan().ContainsAny(",\"") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
    }

    // What spreadsheets take for a formula; a sign before a number with a unit is none.
    private static bool IsFormula(string text) => text.Length > 0 && text[0] switch
    {
        '=' or '@' => true,
        '-' or '+' => !text.AsSpan(1).StartsWith("inf") && (text.Length < 2 || text.AsSpan(1).ContainsAnyExcept(OfNumbers)),
        _ => false,
    };

    private static string Time(DateTimeOffset? time) => time is { } known ? known.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture) : "";

    private static string Seconds(TimeSpan span) => Number(Math.Round(span.TotalSeconds, 1));

    private static string Share(double? share) => share is { } known ? Number(Math.Round(known, 4)) : "";

    private static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);

    private static string Number(double number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Flag(bool flag) => flag ? "yes" : "no";
}
