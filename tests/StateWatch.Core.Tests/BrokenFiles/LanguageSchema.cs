using System.Text.Json;
using Json.Schema;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>The schemas as they are shipped, read by an independent implementation of JSON Schema.</summary>
internal static class LanguageSchema
{
    private static readonly Dictionary<string, JsonSchema> Schemas = All.ToDictionary(one => one.Kind, one =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, one.Path))));

    /// <summary>Kind of file, its root table, the schema's id and where it is kept.</summary>
    public static IReadOnlyList<(string Kind, KeyTable Root, string Id, string Path)> All =>
    [
        ("plan", PlanKeys.Root, "urn:statewatch:show:1", "profiles/schemas/show-1.schema.json"),
        ("desk", ProfileKeys.Root, "urn:statewatch:desk:1", "profiles/schemas/desk-1.schema.json"),
        ("incidents", IncidentKeys.Root, "urn:statewatch:incidents:1", "profiles/schemas/incidents-1.schema.json"),
        ("scenario", ScenarioKeys.Root, "urn:statewatch:scenario:1", "profiles/schemas/scenario-1.schema.json"),
    ];

    /// <summary>What a schema has against a file, or an empty list; null when the file is no YAML of ours.</summary>
    public static IReadOnlyList<string>? Faults(string kind, byte[] bytes, bool resolve)
    {
        if (YamlAsJson.Of(bytes, resolve) is not { } json)
            return null;
        using var document = JsonDocument.Parse(json.ToJsonString());
        var result = Schemas[kind].Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (result.IsValid)
            return [];
        var faults = (result.Details ?? []).Where(detail => !detail.IsValid && detail.Errors is not null).SelectMany(detail => detail.Errors!.Select(error => $"{detail.InstanceLocation}: {error.Value}"));
        return [.. faults.DefaultIfEmpty("invalid")];
    }
}
