using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;
using StateWatch.Rehearsals;

namespace StateWatch.Recordings;

/// <summary>
/// Writes a replay as one JSON object of format <c>statewatch/replay/1</c>; its JSON Schema is <c>Schemas/replay-1.schema.json</c>. The same recording always
/// gives the same bytes.
/// </summary>
internal static class ReplayJson
{
    /// <summary>The name of the format.</summary>
    public const string Format = "statewatch/replay/1";

    /// <summary>The whole report.</summary>
    public static string Write(ReplayResult result) => ReportJson.Write(json =>
    {
        json.WriteStartObject();
        json.WriteString("schema", Format);
        json.WriteString("desk", result.Header.Desk);
        json.WriteString("program", result.Header.Program);
        json.WriteString("plan", result.Header.Plan.Fingerprint);
        json.WriteString("from", Time(result, result.From));
        json.WriteString("to", Time(result, result.To));
        json.WriteNumber("batches", result.Batches);
        json.WriteNumber("datagrams", result.Datagrams);
        json.WriteNumber("orders", result.Orders);
        json.WriteBoolean("identical", result.IsIdentical);
        if (result.FirstDifference is { } difference)
            json.WriteString("difference", difference);
        if (result.Fault is { } fault)
            json.WriteString("broken", fault);
        if (result.Cut is { } cut)
            json.WriteString("cut", cut);
        json.WriteStartArray("told");
        foreach (var alert in result.Told)
            Write(json, result, alert);
        json.WriteEndArray();
        json.WriteEndObject();
    });

    /// <summary>One thing that was told, in one line.</summary>
    public static string Line(ReplayResult result, Alert alert) => ReportJson.Line(json => Write(json, result, alert));

    private static void Write(Utf8JsonWriter json, ReplayResult result, Alert alert)
    {
        var told = alert.Told;
        json.WriteStartObject();
        json.WriteString("at", Time(result, told.At.Wall));
        json.WriteString("sink", told.Sink);
        json.WriteString("told", RehearsalVerdict.WordOf(told));
        json.WriteString("id", told.Id);
        json.WriteString("severity", told.Level.Severity.ToString().ToLowerInvariant());
        json.WriteString("phase", Core.Plans.Phases.Word(alert.Phase));
        if (alert.Cue is { } cue)
            json.WriteString("cue", cue);
        if (told.By is { } by)
            json.WriteString("by", by);
        if (told.Why is { } why)
            json.WriteString("why", why);
        if (alert.Words is { } words)
            json.WriteString("text", words.Text);
        if (told.Members.Count > 0)
            Names(json, "members", told.Members);
        if (told.Digest is { } digest)
            Names(json, "digest", digest.Select(static line => line.Key));
        json.WriteEndObject();
    }

    private static void Names(Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
            json.WriteStringValue(value);
        json.WriteEndArray();
    }

    private static string Time(ReplayResult result, DateTimeOffset moment) => TimeZoneInfo.ConvertTime(moment, result.Zone).ToString("yyyy-MM-dd'T'HH:mm:ss.fffzzz", CultureInfo.InvariantCulture);
}
