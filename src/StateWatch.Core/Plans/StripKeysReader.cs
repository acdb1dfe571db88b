using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Reads the keys that say what a strip is; roles, inputs, groups, effects and feeds share them.</summary>
internal sealed class StripKeysReader(DiagnosticBag diagnostics)
{
    /// <summary>Plan key to the setting's suffix, for keys that set one setting of the strip itself.</summary>
    private static readonly Dictionary<string, string> OwnSuffixes = new(StringComparer.Ordinal)
    {
        ["trim"] = "trim",
        ["on"] = "on",
        ["fader"] = "fader",
        ["pan"] = "pan",
        ["delay"] = "delay",
        ["polarity"] = "polarity",
        ["low-cut"] = "low-cut",
        ["eq"] = "eq/on",
        ["gate"] = "gate/on",
        ["comp"] = "comp/on",
        ["colour"] = "colour",
        ["automix"] = "automix",
        ["direct-out"] = "direct-out",
        // Preamps belong to sockets; the compiler puts these where the strip's source is.
        ["phantom"] = "phantom",
        ["gain"] = "gain",
        ["pad"] = "pad",
    };

    /// <summary>The suffix a plan key sets.</summary>
    public static string SuffixOf(string key) => OwnSuffixes[key];

    /// <summary>The suffix a plan key sets, or null when it is no such key.</summary>
    public static string? FindSuffix(string key) => OwnSuffixes.GetValueOrDefault(key);

    /// <summary>Every plan key that sets one setting of the strip itself.</summary>
    public static IEnumerable<string> OwnKeys => OwnSuffixes.Keys;

    public static bool IsPreamp(string key) => key is "phantom" or "gain" or "pad";

    /// <summary>Reads the keys of a strip that the reader's table has.</summary>
    public StripKeys Read(MapReader reader)
    {
        // A feed's from and delay are not those of its strips: they say what feeds it, and how late its outputs are.
        bool Has(string key) => reader.Table.Find(key) is not null && !(reader.Table == StripTables.Feed && key is "from" or "delay");
        ScalarNode? One(string key) => Has(key) ? reader.Scalar(key) : null;
        var name = One("name");
        if (name is not null && NameTemplate.FirstUnknown(name.Text) is { } word)
            diagnostics.Add(DocumentCodes.BadValue, name.At, $"'{{{word}}}' is not a placeholder of names", "write {n}, {side} or {ch}", NearestWord.Among(word, NameTemplate.Placeholders) is { } meant ? name.Text.Replace($"{{{word}}}", $"{{{meant}}}", StringComparison.Ordinal) : null);
        else if (name is not null && name.Text.Length > TextPool.LongestText)
            diagnostics.Add(DocumentCodes.BadValue, name.At, $"this name has {name.Text.Length} characters, which no desk keeps", "write it in a few words");
        var role = One("role");
        var from = One("from");
        _ = Has("stereo") && reader.Flag("stereo");
        var stereo = One("stereo");
        var dcas = Has("dca") ? ReadNames(reader, "dca") : [];
        var muteGroups = Has("mute-groups") ? ReadNames(reader, "mute-groups") : [];
        var to = ReadTargets(reader.Take("to"), "to");
        var inserts = Has("insert") ? ReadInserts(reader.Take("insert")) : [];
        var values = new List<MapEntry>();
        foreach (var row in reader.Table.Rows)
        {
            if (!OwnSuffixes.ContainsKey(row.Key) || !Has(row.Key) || reader.Take(row.Key) is not { } value)
                continue;
            if (value is ScalarNode)
                values.Add(new MapEntry(reader.Map.Entries.First(entry => entry.Key.Text == row.Key).Key, value));
            else
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{row.Key}' holds {value.Shape}, but a single value belongs here", null);
        }

        ScalarNode? oneOf = null;
        if (Has("one-of"))
        {
            _ = reader.Flag("one-of");
            oneOf = reader.Map.Find("one-of") as ScalarNode;
        }

        return new StripKeys(reader.Map, name, role, from, stereo, dcas, muteGroups, to, inserts, values)
        {
            OneOf = oneOf,
            Microphone = Has("microphone") ? MicrophoneLine.Read(reader) : null,
        };
    }

    /// <summary>Reads <c>[room, subs]</c>, <c>room</c> or <c>{ room: on, subs: -5 dB }</c>.</summary>
    public List<(ScalarNode Name, ScalarNode? Value)> ReadTargets(Node? node, string key)
    {
        var targets = new List<(ScalarNode, ScalarNode?)>();
        switch (node)
        {
            case ScalarNode single:
                targets.Add((single, null));
                break;
            case ListNode list:
                foreach (var item in list.Items)
                {
                    if (item is ScalarNode scalar)
                        targets.Add((scalar, null));
                    else
                        diagnostics.Add(DocumentCodes.WrongShape, item.At, $"'{key}' lists names, not {item.Shape}", $"write {key}: [room, subs]");
                }

                break;
            case MapNode map:
                foreach (var (name, value) in map.Entries)
                {
                    if (value is ScalarNode scalar)
                        targets.Add((name, scalar));
                    else
                        diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{name.Text}' is {value.Shape}", "write on, off or a level such as -10 dB");
                }

                break;
        }

        return targets;
    }

    /// <summary>Reads a name or a list of names; empty when the key is not there.</summary>
    public List<ScalarNode> ReadNames(MapReader reader, string key)
    {
        var names = new List<ScalarNode>();
        foreach (var item in reader.Items(key) ?? [])
        {
            if (item is ScalarNode scalar)
                names.Add(scalar);
            else
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"'{key}' lists names, not {item.Shape}", $"write {key}: [Stage]");
        }

        return names;
    }

    /// <summary>Reads a value or a list of values; empty when the key is not there.</summary>
    public List<ScalarNode> ReadValues(MapReader reader, string key, string example)
    {
        var values = new List<ScalarNode>(1);
        foreach (var item in reader.Items(key) ?? [])
        {
            if (item is ScalarNode scalar)
                values.Add(scalar);
            else
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"'{key}' lists values, not {item.Shape}", $"write {key}: {example}");
        }

        return values;
    }

    private List<(int Slot, ScalarNode Unit)> ReadInserts(Node? node)
    {
        var inserts = new List<(int, ScalarNode)>();
        switch (node)
        {
            case null:
                break;
            case ScalarNode unit:
                inserts.Add((1, unit));
                break;
            case MapNode map:
                foreach (var (slot, value) in map.Entries)
                {
                    if (value is not ScalarNode scalar)
                        diagnostics.Add(DocumentCodes.WrongShape, value.At, $"insert {slot.Text} is {value.Shape}", "write slot: unit");
                    else if (MapReader.ReadWholeNumber(slot, "an insert slot", PlanShapes.InsertSlot, diagnostics) is { } number)
                        inserts.Add((number, scalar));
                }

                break;
            default:
                diagnostics.Add(DocumentCodes.WrongShape, node.At, $"'insert' is {node.Shape}", "write insert: Hush A, or insert: { 2: Hush A }");
                break;
        }

        return inserts;
    }
}
