using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace StateWatch.Tests.Support;

/// <summary>A shipped JSON Schema of a report (draft 2020-12), judged by an independent implementation.</summary>
internal sealed class ReportSchema(string name)
{
    private static readonly Dictionary<string, JsonSchema> Read = [];

    private readonly JsonSchema _schema = Get(name);

    public bool Allows(string json)
    {
        using var document = JsonDocument.Parse(json);
        return _schema.Evaluate(document.RootElement, new EvaluationOptions { RequireFormatValidation = true }).IsValid;
    }

    /// <summary>It allows the report, but not with a key more at a place, nor with one less of those that are required.</summary>
    public void Holds(string json, string pointer, params string[] optional)
    {
        Assert.True(Allows(json), json);
        var (root, place) = At(json, pointer);
        place["extra"] = 1;
        Assert.False(Allows(root.ToJsonString()), $"{pointer}/extra");
        foreach (var key in At(json, pointer).Place.Select(static pair => pair.Key).Except(optional).ToList())
        {
            (root, place) = At(json, pointer);
            Assert.True(place.Remove(key));
            Assert.False(Allows(root.ToJsonString()), $"{pointer}/{key}");
        }
    }

    // A schema with an id can be read once only.
    private static JsonSchema Get(string name)
    {
        lock (Read)
        {
            if (!Read.TryGetValue(name, out var schema))
                Read[name] = schema = JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", $"{name}.schema.json")));
            return schema;
        }
    }

    private static (JsonNode Root, JsonObject Place) At(string json, string pointer)
    {
        var root = JsonNode.Parse(json)!;
        var place = root;
        foreach (var part in pointer.Split('/', StringSplitOptions.RemoveEmptyEntries))
            place = place is JsonArray items ? items[int.Parse(part, CultureInfo.InvariantCulture)]! : place[part]!;
        return (root, place.AsObject());
    }
}
