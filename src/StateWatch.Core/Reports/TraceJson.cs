using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Acoustics;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>
/// Writes a trace as one JSON object of format <c>statewatch/trace/1</c> (RFC 8259, UTF-8, indented); its JSON Schema is
/// <c>Schemas/trace-1.schema.json</c>. The same result always gives the same bytes.
/// </summary>
public static class TraceJson
{
    /// <summary>The name of the format.</summary>
    public const string Format = "statewatch/trace/1";

    /// <summary>The object as text, ending with a line break.</summary>
    public static string Write(TraceResult result) => ReportJson.Write(json => WriteRoot(json, result));

    private static void WriteRoot(Utf8JsonWriter json, TraceResult result)
    {
        var (plan, origin, address, at) = result.Subject;
        json.WriteStartObject();
        json.WriteString("schema", Format);
        json.WriteText("show", plan.Show);
        json.WriteText("desk", plan.Profile.Desk);
        json.WriteString("phase", plan.Phase.Word());
        json.WriteText("cue", plan.Cue?.Name);
        json.WriteString("at", at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
        json.WriteString("origin", origin switch
        {
            TraceOrigin.Plan => "plan",
            TraceOrigin.VirtualDesk => "virtual-desk",
            _ => "desk",
        });
        json.WriteText("address", address);
        json.WriteText("end", result.Read?.End.Word());
        json.WriteString("kind", result.Kind switch
        {
            TraceKind.Pair => "pair",
            TraceKind.Reach => "reach",
            _ => "feeding",
        });
        json.WriteString("answer", result.Answer.Word());
        json.WriteNumber("exitCode", result.ExitCode);
        json.WriteStartArray("pairs");
        foreach (var pair in result.Pairs)
            WritePair(json, result, pair);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WritePair(Utf8JsonWriter json, TraceResult result, TracePair pair)
    {
        json.WriteStartObject();
        json.WriteText("from", pair.From.Path);
        json.WriteText("name", pair.From.Name);
        json.WriteText("to", pair.To.Key);
        json.WriteString("purpose", pair.To.Feed.Purpose.Word());
        json.WriteString("answer", pair.Answer.Word());
        WriteLevel(json, "level", pair.Level);
        WriteLevel(json, "preamp", pair.Preamp);
        json.WriteBoolean("faint", pair.Faint);
        json.WriteStartArray("legs");
        foreach (var leg in pair.Legs)
        {
            json.WriteStartObject();
            json.WriteText("place", leg.Place);
            json.WriteString("state", leg.State.Word());
            WriteLevel(json, "level", leg.Level);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteTexts("unseen", pair.Unseen);
        WriteSource(json, pair);
        json.WriteStartArray("ways");
        foreach (var way in pair.Ways)
            WriteWay(json, result, way.Steps, way.Column, Decibels.OfFactor(way.Gain), way.Gain < 0);
        json.WriteEndArray();
        json.WriteBoolean("moreWays", pair.MoreWays);
        json.WriteStartArray("closedWays");
        foreach (var way in pair.ClosedWays)
            WriteWay(json, result, way.Steps, way.Column, double.NegativeInfinity, false);
        json.WriteEndArray();
        json.WriteStartArray("conditions");
        foreach (var (strip, setting, words) in pair.Conditions)
        {
            json.WriteStartObject();
            json.WriteText("strip", strip);
            json.WriteText("setting", setting);
            json.WriteText("text", words);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        WriteOpening(json, result, pair.Opening);
        json.WriteEndObject();
    }

    private static void WriteSource(Utf8JsonWriter json, TracePair pair)
    {
        if (pair.Source is not var (live, planned))
        {
            json.WriteNull("source");
            return;
        }

        json.WriteStartObject("source");
        json.WriteText("live", live);
        json.WriteText("planned", planned);
        json.WriteEndObject();
    }

    private static void WriteWay(Utf8JsonWriter json, TraceResult result, IReadOnlyList<WayStep> steps, int column, double level, bool turned)
    {
        var map = result.Map;
        json.WriteStartObject();
        json.WriteText("end", map.Profile.Strips[map.Nodes[map.Terminals[column]].Strip].Path);
        WriteLevel(json, "level", level);
        json.WriteBoolean("polarityTurned", turned);
        json.WriteStartArray("steps");
        foreach (var step in steps)
        {
            var edge = map.Edges[step.Edge];
            json.WriteStartObject();
            json.WriteText("from", Node(map, map.Nodes[step.From]));
            json.WriteText("to", Node(map, map.Nodes[edge.To]));
            json.WriteText("tap", edge.Tap >= 0 && result.State.IsFresh(edge.Tap) ? map.Profile.Format(result.State[edge.Tap]) : null);
            json.WriteStartArray("stages");
            foreach (var stage in step.Stages)
            {
                json.WriteStartObject();
                json.WriteString("kind", TraceWords.Word(stage.Kind));
                json.WriteText("setting", stage.Setting < 0 ? null : map.Profile.Settings[stage.Setting].Path);
                json.WriteText("live", stage.Setting < 0 || !result.State.IsFresh(stage.Setting) ? null : map.Profile.Format(result.State[stage.Setting]));
                WriteLevel(json, "level", stage.Level);
                json.WriteBoolean("stops", stage.Stops);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteOpening(Utf8JsonWriter json, TraceResult result, TraceOpening? opening)
    {
        if (opening is null)
        {
            json.WriteNull("opening");
            return;
        }

        json.WriteStartObject("opening");
        json.WriteText("first", opening.First);
        json.WriteStartArray("changes");
        foreach (var change in opening.Changes)
        {
            json.WriteStartObject();
            json.WriteText("setting", result.Map.Profile.Settings[change.Setting].Path);
            json.WriteText("live", change.Now);
            json.WriteText("to", change.Then);
            json.WriteBoolean("asPlanned", change.AsPlanned);
            json.WriteText("planAt", change.PlanAt);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteTexts("opens", opening.Opens);
        json.WriteNumber("opensBesides", opening.OpensBesides);
        json.WriteBoolean("exact", opening.Exact);
        json.WriteEndObject();
    }

    private static string Node(RoutingMap map, RoutingNode node) => node.Kind == NodeKind.Talk
        ? $"talk/{node.Leg}"
        : map.Profile.Strips[node.Strip].Path + (node.Leg == 0 ? "" : node.Leg == 1 ? " left" : " right");

    private static void WriteLevel(Utf8JsonWriter json, string name, double level) => json.WriteText(name, double.IsNaN(level) ? null : TraceWords.Level(level));
}
