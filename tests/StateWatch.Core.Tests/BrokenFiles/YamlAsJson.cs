using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>
/// Files of ours as JSON, for schemas, as an editor sees them: plain values are resolved by the core schema of YAML 1.2.2 (section 10.3.2), which makes
/// null, truth values and numbers of some; or every single value as a text, as our reader takes it.
/// </summary>
internal static class YamlAsJson
{
    public static JsonNode? Of(byte[] bytes, bool resolve)
    {
        var diagnostics = new DiagnosticBag();
        return SourceText.FromBytes("x", bytes, diagnostics) is { } source && YamlText.Read(source, diagnostics) is { } root && !diagnostics.HasErrors ? Of(root, resolve) : null;
    }

    private static JsonNode? Of(Node node, bool resolve) => node switch
    {
        MapNode map => new JsonObject(map.Entries.Select(entry => KeyValuePair.Create(entry.Key.Text, Of(entry.Value, resolve)))),
        ListNode list => new JsonArray([.. list.Items.Select(item => Of(item, resolve))]),
        ScalarNode { Plain: true } scalar when resolve => Resolve(scalar.Text),
        _ => JsonValue.Create(((ScalarNode)node).Text),
    };

    private static JsonValue? Resolve(string text) => text switch
    {
        "" or "~" or "null" or "Null" or "NULL" => null,
        "true" or "True" or "TRUE" => JsonValue.Create(true),
        "false" or "False" or "FALSE" => JsonValue.Create(false),
        _ when Regex.IsMatch(text, "^[-+]?[0-9]+$", RegexOptions.NonBacktracking) => JsonValue.Create(decimal.Parse(text, CultureInfo.InvariantCulture)),
        _ when Regex.IsMatch(text, @"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture) => JsonValue.Create(double.Parse(text, CultureInfo.InvariantCulture)),
        _ => JsonValue.Create(text),
    };
}
