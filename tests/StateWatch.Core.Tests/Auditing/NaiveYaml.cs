using YamlDotNet.RepresentationModel;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>Plain YAML as mappings of text, lists and text, in order of writing. Shares nothing with the program's own reader.</summary>
internal static class NaiveYaml
{
    public static List<KeyValuePair<string, object>> Read(string text)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(text));
        return Map(Plain(stream.Documents[0].RootNode));
    }

    public static List<KeyValuePair<string, object>> Map(object? node) => node as List<KeyValuePair<string, object>> ?? [];

    public static object? Find(object? node, string key) =>
        Map(node).Where(pair => pair.Key == key).Select(pair => pair.Value).FirstOrDefault();

    public static string? Text(object? node, string key) => Find(node, key) as string;

    /// <summary>A list, one text, or a mapping, all as name and value; a listed name has the value <c>on</c>.</summary>
    public static List<(string Name, string Value)> Pairs(object? node) => node switch
    {
        null => [],
        string text => [(text, "on")],
        List<object> list => [.. list.Select(item => ((string)item, "on"))],
        _ => [.. Map(node).Select(pair => (pair.Key, (string)pair.Value))],
    };

    private static object Plain(YamlNode node) => node switch
    {
        YamlScalarNode scalar => scalar.Value ?? "",
        YamlSequenceNode list => list.Children.Select(Plain).ToList(),
        YamlMappingNode map => map.Children.Select(pair => KeyValuePair.Create(((YamlScalarNode)pair.Key).Value!, Plain(pair.Value))).ToList(),
        _ => throw new NotSupportedException(node.GetType().Name),
    };
}
