using System.Buffers;
using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Auditing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Reports;

/// <summary>
/// Writes a sweep as one JSON object of format <c>statewatch/sweep/1</c> (RFC 8259, UTF-8, indented); its JSON Schema is
/// <c>Schemas/sweep-1.schema.json</c>. The same result always gives the same bytes.
/// </summary>
public static class SweepJson
{
    /// <summary>The name of the format.</summary>
    public const string Format = "statewatch/sweep/1";

    /// <summary>The object as text, ending with a line break.</summary>
    public static string Write(SweepResult result) => ReportJson.Write(json => WriteRoot(json, result));

    /// <summary>Writes to a buffer, ending with a line break.</summary>
    public static void Write(SweepResult result, IBufferWriter<byte> output) => ReportJson.Write(output, json => WriteRoot(json, result));

    /// <summary>Writes to a stream, ending with a line break.</summary>
    public static void Write(SweepResult result, Stream output) => ReportJson.Write(output, json => WriteRoot(json, result));

    private static void WriteRoot(Utf8JsonWriter json, SweepResult result)
    {
        var plan = result.Subject.Plan;
        json.WriteStartObject();
        json.WriteString("schema", Format);
        json.WriteText("show", plan.Show);
        json.WriteText("desk", plan.Profile.Desk);
        json.WriteString("phase", Plans.Phases.Word(plan.Phase));
        if (plan.Cue is not null)
            json.WriteText("cue", plan.Cue.Name);
        json.WriteString("at", result.Subject.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
        json.WriteString("verdict", result.Verdict.Word());
        json.WriteNumber("exitCode", result.ExitCode);
        json.WriteBoolean("complete", result.Complete);
        WriteCoverage(json, result);
        WriteRules(json, result.Audit);
        json.WriteStartArray("causes");
        foreach (var cause in result.Audit.Causes)
        {
            json.WriteStartObject();
            json.WriteText("id", cause.Id);
            json.WriteText("text", cause.Text);
            json.WriteTexts("findings", cause.Findings.Select(finding => finding.Id));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("findings");
        foreach (var finding in result.Audit.Findings)
            WriteFinding(json, finding);
        json.WriteEndArray();
        WriteWaivers(json, result.Waivers);
        MarginJson.Write(json, result.Audit.Margins);
        WriteRatios(json, result.Audit.Ratios);
        json.WriteStartObject("timing");
        json.WriteNumber("readMs", Milliseconds(result.Read.Elapsed));
        json.WriteNumber("auditMs", Milliseconds(result.AuditTime));
        json.WriteEndObject();
        json.WriteString("end", result.Read.End.Word());
        json.WriteTexts("identity", result.Read.Identity);
        WriteLink(json, result);
        json.WriteEndObject();
    }

    private static void WriteCoverage(Utf8JsonWriter json, SweepResult result)
    {
        json.WriteStartObject("coverage");
        json.WriteNumber("planned", result.Planned);
        json.WriteNumber("verified", result.Verified);
        json.WriteStartArray("unseen");
        foreach (var unseen in result.Unseen)
        {
            json.WriteStartObject();
            json.WriteText("setting", unseen.Setting);
            json.WriteText("reason", unseen.Reason);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteTexts("byEye", result.ByEye);
        json.WriteEndObject();
    }

    private static void WriteRules(Utf8JsonWriter json, AuditResult audit)
    {
        json.WriteStartObject("rules");
        json.WriteNumber("evaluated", audit.Evaluated);
        json.WriteStartArray("cannotTell");
        foreach (var undecided in audit.CannotTell)
        {
            json.WriteStartObject();
            json.WriteText("rule", undecided.Rule);
            json.WriteText("subject", undecided.Subject);
            json.WriteTexts("missing", undecided.Missing);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteTexts("notApplicable", audit.NotApplicable.Select(rule => rule.Id));
        json.WriteEndObject();
    }

    private static void WriteFinding(Utf8JsonWriter json, Finding finding)
    {
        json.WriteStartObject();
        json.WriteText("id", finding.Id);
        json.WriteText("rule", finding.Rule.Id);
        json.WriteText("subject", finding.Subject);
        json.WriteString("kind", finding.Rule.Kind == FindingKind.Drift ? "drift" : "risk");
        json.WriteString("class", finding.Class.Word());
        json.WriteString("severity", finding.Severity.Word());
        json.WriteText("cause", finding.CauseId);
        json.WriteText("strip", finding.Strip);
        json.WriteText("name", finding.Name);
        json.WriteText("setting", finding.Setting);
        json.WriteText("planned", finding.Planned);
        json.WriteText("live", finding.Live);
        json.WriteText("why", finding.Words.Why);
        json.WriteText("do", finding.Words.Do);
        json.WriteText("planAt", finding.PlanAt?.ToString());
        json.WriteEndObject();
    }

    private static void WriteRatios(Utf8JsonWriter json, IReadOnlyList<RatioReading> ratios)
    {
        json.WriteStartArray("ratios");
        foreach (var (ratio, live, met) in ratios)
        {
            json.WriteStartObject();
            json.WriteText("at", ratio.Line.At.Text);
            json.WriteText("of", ratio.Line.Of.Text);
            json.WriteText("over", ratio.Line.Over.Text);
            json.WriteText("against", ratio.Against.Key);
            json.WriteString("planned", RatioReading.Text(ratio.Line.Be));
            json.WriteString("within", RatioReading.Text(ratio.Line.Within));
            json.WriteText("live", live is { } level ? RatioReading.Text(level) : null);
            json.WriteText("planAt", ratio.Line.Place.ToString());
            if (met is { } isMet)
                json.WriteBoolean("met", isMet);
            else
                json.WriteNull("met");
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteWaivers(Utf8JsonWriter json, IReadOnlyList<WaiverStatus> waivers)
    {
        json.WriteStartArray("waivers");
        foreach (var (line, active, finding, _) in waivers)
        {
            json.WriteStartObject();
            json.WriteText("finding", line.Finding.Text);
            json.WriteText("owner", line.Owner);
            json.WriteText("why", line.Why);
            json.WriteString("until", line.UntilText);
            json.WriteBoolean("active", active);
            json.WriteBoolean("matched", finding is not null);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteLink(Utf8JsonWriter json, SweepResult result)
    {
        json.WriteStartObject("link");
        json.WriteText("address", result.Subject.DeskAddress);
        json.WriteBoolean("simulated", result.Subject.Simulated);
        json.WriteNumber("questions", result.Read.Questions);
        json.WriteNumber("answered", result.Read.Answered);
        json.WriteNumber("sent", result.Link.Sent);
        json.WriteNumber("received", result.Link.Received);
        json.WriteNumber("foreign", result.Link.Foreign);
        json.WriteNumber("dropped", result.Link.Dropped);
        json.WriteNumber("tooLong", result.Link.TooLong);
        json.WriteNumber("refused", result.Link.Refused);
        json.WriteNumber("malformed", result.Decoded.Malformed);
        json.WriteNumber("unknown", result.Decoded.Unknown);
        json.WriteNumber("ignored", result.Decoded.Ignored);
        json.WriteNumber("notUnderstood", result.Decoded.NotUnderstood);
        json.WriteEndObject();
    }

    private static double Milliseconds(TimeSpan time) => Math.Round(time.TotalMilliseconds, 1);
}
