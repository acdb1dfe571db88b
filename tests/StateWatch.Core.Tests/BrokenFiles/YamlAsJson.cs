using System.Text.Json.Nodes;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>Files of ours as JSON, for schemas: every single value is a string, as the reader takes it.</summary>
internal static class YamlAsJson
{
    public static JsonNode? Of(byte[] bytes)
    {
        var diagnostics = new DiagnosticBag();
        return SourceText.FromBytes("x", bytes, diagnostics) is { } source && YamlText.Read(source, diagnostics) is { } root && !diagnostics.HasErrors ? Of(root) : null;
    }

    private static JsonNode Of(Node node) => node switch
    {
        MapNode map => new JsonObject(map.Entries.Select(entry => KeyValuePair.Create(entry.Key.Text, (JsonNode?)Of(entry.Value)))),
        ListNode list => new JsonArray([.. list.Items.Select(Of)]),
        _ => JsonValue.Create(((ScalarNode)node).Text),
    };
}
