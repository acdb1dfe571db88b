using System.Globalization;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>Reads the <c>codecs:</c> of a profile.</summary>
internal sealed class CodecReader(TextPool texts, StripCounts counts, DiagnosticBag diagnostics)
{
    private const int MostEntries = 400_000;

    private static readonly string[] Meanings = ["table", "switch", "inverted", "choices", "length", "unit", "points"];

    private int _spent;

    /// <summary>Codecs that are written but faulty; who uses them has no fault of their own.</summary>
    public HashSet<string> Faulty { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, (Codec Codec, Origin At)> Read(MapNode? map)
    {
        var codecs = new Dictionary<string, (Codec, Origin)>(StringComparer.Ordinal);
        foreach (var (key, value) in map?.Entries ?? [])
        {
            Faulty.Add(key.Text);
            if (value is not MapNode body)
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"codec '{key.Text}' is {value.Shape}", "write it like { wire: int, switch: [0, 1] }");
            else if (ReadOne(key, body) is { } codec)
            {
                codecs.Add(key.Text, (codec, key.At));
                Faulty.Remove(key.Text);
            }
        }

        return codecs;
    }

    private Codec? ReadOne(ScalarNode key, MapNode body)
    {
        var meaning = Meanings.FirstOrDefault(word => body.Find(word) is not null);
        var reader = new MapReader(body, TableOf(meaning), diagnostics);
        var wire = ReadWire(reader);
        Codec? codec = meaning switch
        {
            _ when wire is null => null,
            "switch" or "inverted" => ReadSwitch(key.Text, wire.Value, reader),
            "choices" => ReadChoices(key.Text, wire.Value, reader),
            "points" => ReadPoints(key.Text, wire.Value, reader),
            "length" => ReadText(key.Text, wire.Value, reader),
            "table" or "unit" => ReadScale(key.Text, wire.Value, reader),
            _ => Unclear(key),
        };
        // A faulty codec is told once: only what no codec at all has is told beside it.
        if (codec is null)
        {
            reader = new MapReader(body, CodecTables.Any, diagnostics);
            foreach (var row in CodecTables.Any.Rows)
                _ = reader.Take(row.Key);
        }

        reader.Finish();
        return codec;
    }

    private static KeyTable TableOf(string? meaning) => meaning switch
    {
        "switch" or "inverted" => CodecTables.Switch,
        "choices" => CodecTables.Choices,
        "points" => CodecTables.Points,
        "length" => CodecTables.Text,
        "table" or "unit" => CodecTables.Scale,
        _ => CodecTables.Any,
    };

    private Codec? Unclear(ScalarNode key)
    {
        diagnostics.Add(ProfileCodes.UnclearCodec, key.At, $"codec '{key.Text}' does not say what it gives",
            $"add one of {string.Join(", ", Meanings)}; for text of any length write length: 0");
        return null;
    }

    private WireKind? ReadWire(MapReader reader)
    {
        var scalar = reader.RequireScalar("wire");
        switch (scalar?.Text)
        {
            case null: return null;
            case "int": return WireKind.Int;
            case "float": return WireKind.Float;
            case "string": return WireKind.String;
            case "bool": return WireKind.Bool;
            default:
                diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a way an argument travels", "write int, float, string or bool",
                    NearestWord.Among(scalar.Text, CodecTables.Any.WordsOf("wire")));
                return null;
        }
    }

    private SwitchCodec? ReadSwitch(string name, WireKind wire, MapReader reader)
    {
        var inverted = reader.Flag("inverted");
        var items = reader.Items("switch");
        if (items is null)
            return new SwitchCodec(name, wire, inverted ? 1 : 0, inverted ? 0 : 1, texts);
        if (inverted)
            diagnostics.Add(ProfileCodes.UnclearCodec, reader.Map.At, "'switch' and 'inverted' stand together", "keep one: switch: [1, 0] is inverted");
        if (items is not [ScalarNode off, ScalarNode on])
        {
            diagnostics.Add(DocumentCodes.BadValue, reader.Map.Find("switch")!.At, "'switch' needs two values, off first", "write it like switch: [0, 1]");
            return null;
        }

        if (wire == WireKind.String)
            return new SwitchCodec(name, off.Text, on.Text, texts);
        if (wire == WireKind.Bool && (off.Text, on.Text) is ("false", "true") or ("true", "false"))
            return new SwitchCodec(name, wire, off.Text == "true" ? 1 : 0, on.Text == "true" ? 1 : 0, texts);
        if (TryNumber(off, out var offValue) && TryNumber(on, out var onValue))
            return new SwitchCodec(name, wire, offValue, onValue, texts);
        return null;
    }

    private WordCodec? ReadChoices(string name, WireKind wire, MapReader reader)
    {
        var map = reader.Mapping("choices");
        if (map is null)
            return null;
        var codec = new WordCodec(name, ValueKind.Choice, wire, texts);
        foreach (var (word, value) in map.Entries)
        {
            if (Spelling(word, value) is { } spelling)
                _ = Add(codec, word.Text, value, spelling.Text);
        }

        return codec;
    }

    private WordCodec? ReadPoints(string name, WireKind wire, MapReader reader)
    {
        var map = reader.Mapping("points");
        var bankWord = reader.Scalar("bank");
        var bank = bankWord?.Text ?? "socket";
        if (!reader.Table.WordsOf("bank").Contains(bank))
            diagnostics.Add(DocumentCodes.BadValue, bankWord!.At, $"'{bank}' has no banks", "write socket or output", NearestWord.Among(bank, reader.Table.WordsOf("bank")));
        if (map is null)
            return null;
        var codec = new WordCodec(name, ValueKind.Point, wire, texts);
        foreach (var (word, value) in map.Entries)
        {
            var kind = word.Text.Split(' ')[0];
            var template = Template(word, word.Text);
            var spelling = Spelling(word, value) is { } scalar ? Template(scalar, scalar.Text) : null;
            if (template is null || spelling is null)
                continue;
            if (spelling.Names.FirstOrDefault(name => !template.Names.Contains(name)) is { } stranger)
            {
                diagnostics.Add(ProfileCodes.UnknownPlaceholder, value.At, $"'{stranger}' is not a placeholder of '{word.Text}'", "use the placeholder of the word before the colon",
                    spelling.WithName(stranger, NearestWord.Among(stranger, template.Names)));
                continue;
            }

            if (template.Names.Count == 0)
            {
                _ = Add(codec, word.Text, value, spelling.Text);
                continue;
            }

            var count = counts.Count(kind, bank);
            if (count == 0 || template.Names.Count > 1)
            {
                diagnostics.Add(ProfileCodes.UnknownPlaceholder, word.At, $"'{kind}' is not counted under strips, so '{word.Text}' stands for nothing",
                    "begin a point with a bank or a strip kind, and use one placeholder", null);
                continue;
            }

            for (var number = 1; number <= count; number++)
            {
                if (!template.TryExpand(template.Names, [number], out var canonical) || !spelling.TryExpand(template.Names, [number], out var wireText))
                {
                    diagnostics.Add(ProfileCodes.BadNumberForm, value.At, $"'{word.Text}' or '{spelling.Text}' has no spelling for {number}", null);
                    break;
                }

                if (!Add(codec, canonical, value, wireText))
                    break;
            }
        }

        return codec;
    }

    private ScalarNode? Spelling(ScalarNode word, Node value)
    {
        if (value is not ScalarNode)
            diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{word.Text}' holds {value.Shape}, but its spelling on the wire belongs here", "write a whole number or a text");
        return value as ScalarNode;
    }

    private bool Add(WordCodec codec, string word, Node at, string wire)
    {
        if (!Spend(8, at.At))
            return false;
        if (codec.TryAdd(word, wire) is not { } collision)
            return true;
        diagnostics.Add(ProfileCodes.WordTwice, at.At, $"'{word}': {collision}", "every word needs its own spelling");
        return false;
    }

    // One short line can name thousands of points or steps.
    private bool Spend(int amount, Origin at)
    {
        if (_spent > MostEntries)
            return false;
        _spent += amount;
        if (_spent <= MostEntries)
            return true;
        diagnostics.Add(DocumentCodes.TooMany, at, $"up to here the codecs hold too many words ({MostEntries / 8:N0} are read) or steps ({MostEntries:N0})", "several settings may share one codec");
        return false;
    }

    private IndexTemplate? Template(ScalarNode at, string text)
    {
        var template = IndexTemplate.TryParse(text, out var problem, out var column);
        if (template is null)
            diagnostics.Add(ProfileCodes.BadNumberForm, at.At, $"'{text}', character {column + 1}: {problem}", null);
        return template;
    }

    private TextCodec? ReadText(string name, WireKind wire, MapReader reader)
    {
        var length = reader.WholeNumber("length");
        var pad = reader.Scalar("pad");
        if (pad is not null && !reader.Table.WordsOf("pad").Contains(pad.Text))
            diagnostics.Add(DocumentCodes.BadValue, pad.At, $"'{pad.Text}' is not a way to pad", "write space or none", NearestWord.Among(pad.Text, reader.Table.WordsOf("pad")));
        if (wire == WireKind.String)
            return new TextCodec(name, length, pad?.Text == "space", texts);
        diagnostics.Add(DocumentCodes.BadValue, reader.Map.Find("wire")!.At, "text travels as a string", "write wire: string");
        return null;
    }

    private ScaleCodec? ReadScale(string name, WireKind wire, MapReader reader)
    {
        var unitWord = reader.Scalar("unit");
        var unit = Unit.Decibel;
        if (unitWord is not null && !ValueText.TryParseUnit(unitWord.Text, out unit))
            diagnostics.Add(DocumentCodes.BadValue, unitWord.At, $"'{unitWord.Text}' is not a unit", "write dB, ms, Hz, kHz, % or none", NearestWord.Among(unitWord.Text, reader.Table.WordsOf("unit")));
        var table = ReadTable(reader, unitWord is null);
        var steps = reader.WholeNumber("steps");
        if (wire is WireKind.String or WireKind.Bool)
            diagnostics.Add(DocumentCodes.BadValue, reader.Map.Find("wire")!.At, "numbers travel as int or float", "write wire: float or wire: int");
        if (steps > 0 && table is { Count: 0 })
            diagnostics.Add(ProfileCodes.BadTable, reader.Map.Find("steps")!.At, "'steps' needs a table that says which wire values they lie between", null);
        if (table is null)
            return null;
        if (steps == 0 && wire == WireKind.Int && table.Count > 1)
            steps = (int)Math.Clamp(table[^1].Wire - table[0].Wire + 1, 2, 65_536);
        if (!Spend(steps, reader.Map.At))
            return null;
        return new ScaleCodec(name, unitWord is null ? ValueKind.Level : ValueKind.Number, wire, unit, table, steps, texts);
    }

    private List<(double Wire, double Value)>? ReadTable(MapReader reader, bool offAllowed)
    {
        var items = reader.Items("table");
        var table = new List<(double, double)>();
        foreach (var item in items ?? [])
        {
            if (item is not ListNode { Items: [ScalarNode wireNode, ScalarNode valueNode] })
            {
                diagnostics.Add(DocumentCodes.WrongShape, item.At, "a point of a table is a pair", "write it like [0.75, 0]");
                return null;
            }

            double value = double.NegativeInfinity;
            var isOff = offAllowed && table.Count == 0 && valueNode.Text == "-inf";
            if (!TryNumber(wireNode, out var wire) || (!isOff && !TryNumber(valueNode, out value)))
                return null;
            if (table.Count > 0 && (wire <= table[^1].Item1 || value <= table[^1].Item2))
            {
                diagnostics.Add(ProfileCodes.BadTable, item.At, $"[{wireNode.Text}, {valueNode.Text}] does not lie above the point before it",
                    "both columns of a table must rise");
                return null;
            }

            table.Add((wire, value));
        }

        if (items is null || table.Count >= 2)
            return table;
        diagnostics.Add(ProfileCodes.BadTable, reader.Map.Find("table")!.At, "a table needs at least two points", null);
        return null;
    }

    private bool TryNumber(ScalarNode node, out double value)
    {
        if (double.TryParse(node.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value))
            return true;
        diagnostics.Add(DocumentCodes.BadValue, node.At, $"'{node.Text}' is not a number", null);
        return false;
    }
}
