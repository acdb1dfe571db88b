using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Records;

/// <summary>
/// Writes a report as one JSON object of format <c>statewatch/history/1</c> (RFC 8259, UTF-8, indented); its JSON Schema is
/// <c>Schemas/history-1.schema.json</c>. The same report always gives the same bytes.
/// </summary>
public static class HistoryJson
{
    /// <summary>The name of the format.</summary>
    public const string Format = "statewatch/history/1";

    /// <summary>The object as text, ending with a line break.</summary>
    public static string Write(HistoryReport report) => ReportJson.Write(json => WriteRoot(json, report));

    private static void WriteRoot(Utf8JsonWriter json, HistoryReport report)
    {
        var question = report.Question;
        json.WriteStartObject();
        json.WriteString("schema", Format);
        WriteTime(json, "at", question.At);
        json.WriteText("place", question.Place);
        json.WriteText("desk", question.Desk);
        WriteTime(json, "from", question.Time.From);
        WriteTime(json, "to", question.Time.To);
        json.WriteText("show", question.Show?.Show);
        WriteList(json, "shows", Asked(report, HistoryParts.Shows), report.Shows, (show, writer) => WriteShow(writer, show, question.At));
        WriteList(json, "happenings", Asked(report, HistoryParts.Shows), report.Happenings, static (line, writer) => WriteHappening(writer, line));
        WriteList(json, "changes", Asked(report, HistoryParts.Changes), report.Changes, static (strip, writer) => WriteStrip(writer, strip));
        WriteList(json, "findings", Asked(report, HistoryParts.Findings), report.Findings, (episode, writer) => WriteFinding(writer, episode, question.Time.To));
        WriteList(json, "coverage", Asked(report, HistoryParts.Coverage), report.Coverage, static (desk, writer) => WriteCoverage(writer, desk));
        if (Asked(report, HistoryParts.Load))
            WriteLoad(json, report.Load);
        else
            json.WriteNull("load");
        json.WriteEndObject();
    }

    private static bool Asked(HistoryReport report, HistoryParts part) => report.Question.Parts.HasFlag(part);

    private static void WriteList<T>(Utf8JsonWriter json, string name, bool isAsked, IReadOnlyList<T> items, Action<T, Utf8JsonWriter> write)
    {
        if (!isAsked)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(item, json);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteShow(Utf8JsonWriter json, ShowSummary show, DateTimeOffset now)
    {
        json.WriteText("desk", show.Period.Desk);
        json.WriteText("show", show.Period.Show);
        WriteTime(json, "began", show.Period.Began);
        WriteTime(json, "ended", show.Period.Ended);
        json.WriteBoolean("endSeen", show.Period.IsEndSeen);
        WriteSeconds(json, "seconds", (show.Period.Ended ?? now) - show.Period.Began);
        json.WriteNumber("findings", show.Findings);
        json.WriteNumber("urgent", show.Urgent);
        json.WriteNumber("alarms", show.Alarms);
        WriteShare(json, "worstCoverage", show.WorstCoverage);
    }

    private static void WriteHappening(Utf8JsonWriter json, RecordedShowEvent line)
    {
        WriteTime(json, "at", line.Event.At);
        json.WriteText("desk", line.Desk);
        json.WriteString("kind", HistoryWords.Of(line.Event.Kind));
        json.WriteText("text", line.Event.Text);
        json.WriteText("by", line.Event.By);
    }

    private static void WriteStrip(Utf8JsonWriter json, StripMove strip)
    {
        json.WriteText("desk", strip.Desk);
        json.WriteText("strip", strip.Strip);
        json.WriteText("name", strip.Name);
        WriteList(json, "settings", true, strip.Moves, static (move, writer) =>
        {
            writer.WriteText("setting", move.Setting);
            writer.WriteBoolean("planned", move.IsPlanned);
            writer.WriteNumber("changes", move.Changes);
            WriteTime(writer, "first", move.First);
            WriteTime(writer, "last", move.Last);
            writer.WriteText("before", move.Before);
            writer.WriteText("after", move.After);
            writer.WriteBoolean("differs", move.Differs);
        });
    }

    private static void WriteFinding(Utf8JsonWriter json, FindingEpisode episode, DateTimeOffset to)
    {
        var words = episode.Words;
        json.WriteText("key", episode.Key);
        json.WriteText("desk", episode.Desk);
        json.WriteNumber("episode", episode.Episode);
        json.WriteText("severity", episode.Severity?.Word());
        WriteTime(json, "raised", episode.Raised);
        WriteTime(json, "cleared", episode.Cleared);
        json.WriteText("clearedFor", episode.ClearedFor);
        WriteSeconds(json, "seconds", episode.Stood(to));
        json.WriteText("acknowledgedBy", episode.AcknowledgedBy);
        WriteTime(json, "acknowledged", episode.AcknowledgedAt);
        json.WriteNumber("relapses", episode.Relapses);
        json.WriteNumber("alarms", episode.Alarms);
        json.WriteTexts("holds", episode.Holds);
        json.WriteText("strip", words?.Strip);
        json.WriteText("name", words?.Name);
        json.WriteText("setting", words?.Setting);
        json.WriteText("planned", words?.Planned);
        json.WriteText("live", words?.Live);
        json.WriteText("text", words?.Text);
    }

    private static void WriteCoverage(Utf8JsonWriter json, CoverageRecord desk)
    {
        json.WriteText("desk", desk.Desk);
        WritePart(json, desk.Whole);
        WriteTime(json, "worstAt", desk.WorstAt);
        WriteList(json, "gaps", true, desk.Gaps, static (gap, writer) => WriteStretch(writer, gap));
        WriteList(json, "parts", true, desk.Parts, static (part, writer) =>
        {
            WriteStretch(writer, part.Time);
            WritePart(writer, part);
        });
    }

    private static void WritePart(Utf8JsonWriter json, CoveragePart part)
    {
        json.WriteNumber("samples", part.Samples);
        WriteShare(json, "worst", part.Worst);
        WriteShare(json, "mean", part.Mean);
        json.WriteNumber("cannotTell", part.CannotTell);
    }

    private static void WriteStretch(Utf8JsonWriter json, TimeStretch stretch)
    {
        WriteTime(json, "from", stretch.From);
        WriteTime(json, "to", stretch.To);
    }

    private static void WriteLoad(Utf8JsonWriter json, AlarmLoad load)
    {
        json.WriteStartObject("load");
        WriteSeconds(json, "watchedSeconds", load.Watched);
        json.WriteNumber("alarms", load.Alarms);
        json.WriteNumber("urgent", load.Mix.Urgent);
        json.WriteNumber("warnings", load.Mix.Warning);
        json.WriteNumber("notices", load.Mix.Notice);
        WriteTime(json, "peakAt", load.PeakAt);
        json.WriteNumber("floods", load.Floods);
        WriteSeconds(json, "floodSeconds", load.InFlood);
        WriteList(json, "figures", true, LoadFigure.Of(load), static (figure, writer) =>
        {
            writer.WriteString("id", figure.Id);
            writer.WriteString("text", figure.Text);
            writer.WriteNumber("value", figure.Value);
            writer.WriteString("unit", figure.Unit);
            writer.WriteString("goal", figure.Goal);
            if (figure.IsMet is { } met)
                writer.WriteBoolean("met", met);
            else
                writer.WriteNull("met");
            writer.WriteString("source", figure.Source);
        });
        WriteList(json, "top", true, load.Top, static (one, writer) =>
        {
            writer.WriteText("key", one.Key);
            writer.WriteNumber("alarms", one.Alarms);
        });
        json.WriteTexts("chattering", load.Chattering);
        json.WriteTexts("fleeting", load.Fleeting);
        json.WriteEndObject();
    }

    private static void WriteTime(Utf8JsonWriter json, string name, DateTimeOffset? time)
    {
        if (time is { } known)
            json.WriteString(name, known.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
        else
            json.WriteNull(name);
    }

    private static void WriteSeconds(Utf8JsonWriter json, string name, TimeSpan span) => json.WriteNumber(name, Math.Round(span.TotalSeconds, 1));

    private static void WriteShare(Utf8JsonWriter json, string name, double? share)
    {
        if (share is { } known)
            json.WriteNumber(name, Math.Round(known, 4));
        else
            json.WriteNull(name);
    }
}
