using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Documents;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Schemas;

/// <summary>
/// Writes the JSON Schema (2020-12) of a kind of file from its tables. Single values are texts to our readers, but an editor's YAML makes numbers
/// and truth values of some: a schema takes those too. What a schema refuses the reader refuses; names, conflicts and counts of the desk only the reader knows.
/// </summary>
public sealed class SchemaWriter
{
    private readonly Utf8JsonWriter _json;
    private readonly List<KeyTable> _tables = [];
    private readonly List<SettingsShape> _settings = [];
    private readonly bool _laysOver;

    private SchemaWriter(Utf8JsonWriter json, bool laysOver)
    {
        _json = json;
        _laysOver = laysOver;
    }

    /// <summary>Writes a schema.</summary>
    /// <param name="root">The root mapping.</param>
    /// <param name="id">Its <c>$id</c>.</param>
    public static string Write(KeyTable root, string id) => ReportJson.Write(json => new SchemaWriter(json, root.LaysOver is not null).WriteRoot(root, id));

    private void WriteRoot(KeyTable root, string id)
    {
        _json.WriteStartObject();
        _json.WriteString("$schema", "https://json-schema.org/draft/2020-12/schema");
        _json.WriteString("$id", id);
        _json.WriteString("title", $"{char.ToUpperInvariant(root.Name[0])}{root.Name[1..]}");
        var requirements = root.LaysOver is null ? null : new RequiredKeys(root);
        WriteTable(root, requirements);
        if (requirements is not null)
            requirements.Write(_json);
        _json.WriteStartObject("$defs");
        var written = WriteTables(0, requirements);
        if (_settings.Count > 0)
            WriteSettings(_settings[0]);
        _ = WriteTables(written, requirements);
        _json.WriteEndObject();
        _json.WriteEndObject();
    }

    // Tables name further tables while they are written.
    private int WriteTables(int from, RequiredKeys? elsewhere)
    {
        for (; from < _tables.Count; from++)
        {
            _json.WriteStartObject(NameOf(_tables[from]));
            WriteTable(_tables[from], elsewhere);
            _json.WriteEndObject();
        }

        return from;
    }

    private void WriteTable(KeyTable table, RequiredKeys? elsewhere)
    {
        _json.WriteString("description", table.Words);
        _json.WriteString("type", "object");
        _json.WriteBoolean("additionalProperties", false);
        if (elsewhere?.Has(table) != true)
            WriteList("required", RequiredKeys.Of(table, []));
        _json.WriteStartObject("properties");
        foreach (var row in table.Rows)
        {
            _json.WriteStartObject(row.Key);
            _json.WriteString("description", KeyText.Describe(row));
            WriteShape(row.Shape);
            _json.WriteEndObject();
        }

        _json.WriteEndObject();
    }

    // Writes the keywords of a shape into the object that is open.
    private void WriteShape(ValueShape shape)
    {
        switch (shape)
        {
            case TextShape text:
                WriteScalar(text.Pattern);
                break;
            case SettingShape setting:
                WriteScalar(ValuePatterns.Of(setting.Kinds, exact: false));
                break;
            case WordShape words:
                WriteWords(words.Words);
                break;
            case FlagShape:
                WriteWords(["true", "false", "yes", "no", "on", "off"]);
                break;
            case WholeShape whole:
                WriteList("type", ["integer", "string"]);
                _json.WriteNumber("minimum", whole.Least);
                _json.WriteNumber("maximum", whole.Most);
                _json.WriteString("pattern", WholePattern(whole));
                break;
            case QuantityShape quantity:
                WriteList("type", ["number", "string"]);
                _json.WriteNumber("minimum", quantity.Least);
                if (double.IsFinite(quantity.Most))
                    _json.WriteNumber("maximum", quantity.Most);
                _json.WriteString("pattern", ValuePatterns.Of(quantity));
                break;
            case ListShape list:
                WriteListShape(list);
                break;
            case MapShape map:
                WriteMap(map);
                break;
            case TableShape table:
                if (!_tables.Contains(table.Table))
                    _tables.Add(table.Table);
                _json.WriteString("$ref", $"#/$defs/{NameOf(table.Table)}");
                if (!_laysOver)
                    WriteList("required", table.Also);
                break;
            case SettingsShape settings:
                _settings.Add(settings);
                _json.WriteString("$ref", "#/$defs/settings");
                break;
            case EitherShape either:
                WriteAnyOf(either.Shapes);
                break;
        }
    }

    private void WriteListShape(ListShape list)
    {
        if (!list.Single)
        {
            WriteArray(list);
            return;
        }

        // Only a single value may stand without brackets, never a mapping.
        var alone = list.Item is EitherShape either ? either.Shapes.Where(shape => shape is not (TableShape or MapShape)) : [list.Item];
        _json.WriteStartArray("anyOf");
        foreach (var shape in alone)
            WriteObject(shape);
        _json.WriteStartObject();
        WriteArray(list);
        _json.WriteEndObject();
        _json.WriteEndArray();
    }

    private void WriteArray(ListShape list)
    {
        _json.WriteString("type", "array");
        if (list.Least > 0)
            _json.WriteNumber("minItems", list.Least);
        if (list.Most < int.MaxValue)
            _json.WriteNumber("maxItems", list.Most);
        if (list.Distinct)
            _json.WriteBoolean("uniqueItems", true);
        _json.WritePropertyName("items");
        WriteObject(list.Item);
    }

    private void WriteMap(MapShape map)
    {
        _json.WriteString("type", "object");
        if (map.Least > 0)
            _json.WriteNumber("minProperties", map.Least);
        if (map.Most < int.MaxValue)
            _json.WriteNumber("maxProperties", map.Most);
        var known = map.Key is WordShape words ? (words.Words, map.Value) : map.Telling;
        if (known is { } telling)
        {
            _json.WriteStartObject("properties");
            foreach (var key in telling.Keys)
            {
                _json.WritePropertyName(key);
                WriteObject(telling.Value);
            }

            _json.WriteEndObject();
        }

        if ((map.Key switch { TextShape text => text.Pattern, WholeShape whole => WholePattern(whole), _ => null }) is { } pattern)
        {
            _json.WriteStartObject("propertyNames");
            _json.WriteString("pattern", pattern);
            _json.WriteEndObject();
        }

        _json.WritePropertyName("additionalProperties");
        if (map.Key is WordShape)
            _json.WriteBooleanValue(false);
        else
            WriteObject(map.Value);
    }

    private void WriteSettings(SettingsShape settings)
    {
        var exact = settings.Other is null;
        _json.WriteStartObject("settings");
        _json.WriteString("description", "Setting paths of the catalogue and their values.");
        _json.WriteString("type", "object");
        if (settings.Least > 0)
            _json.WriteNumber("minProperties", settings.Least);
        _json.WriteBoolean("additionalProperties", false);
        _json.WriteStartObject("patternProperties");
        foreach (var path in SettingPaths.All(exact))
        {
            _json.WriteStartObject(path.Pattern);
            _json.WriteString("description", path.Description);
            if (settings.Other is { } other)
            {
                _json.WriteStartArray("anyOf");
                _json.WriteStartObject();
                WriteScalar(ValuePatterns.Of(path.Values, exact));
                _json.WriteEndObject();
                WriteObject(other);
                _json.WriteEndArray();
            }
            else
                WriteScalar(ValuePatterns.Of(path.Values, exact));
            _json.WriteEndObject();
        }

        _json.WriteEndObject();
        _json.WriteEndObject();
    }

    private void WriteScalar(string? pattern)
    {
        WriteList("type", [.. ValuePatterns.Types(pattern)]);
        if (pattern is not null)
            _json.WriteString("pattern", pattern);
    }

    private void WriteWords(IReadOnlyList<string> words)
    {
        _json.WriteStartArray("enum");
        foreach (var word in words)
        {
            _json.WriteStringValue(word);
            if (word is "true" or "false")
                _json.WriteBooleanValue(word == "true");
        }

        _json.WriteEndArray();
    }

    private void WriteAnyOf(IReadOnlyList<ValueShape> shapes)
    {
        _json.WriteStartArray("anyOf");
        foreach (var shape in shapes)
            WriteObject(shape);
        _json.WriteEndArray();
    }

    private void WriteObject(ValueShape shape)
    {
        _json.WriteStartObject();
        WriteShape(shape);
        _json.WriteEndObject();
    }

    private void WriteList(string key, IReadOnlyList<string> words)
    {
        if (words.Count == 0)
            return;
        _json.WriteStartArray(key);
        foreach (var word in words)
            _json.WriteStringValue(word);
        _json.WriteEndArray();
    }

    private static string WholePattern(WholeShape whole) => string.Create(CultureInfo.InvariantCulture, $@"^\s*\+?0*{NumberPattern.Of(whole.Least, whole.Most)}\s*$");

    private static string NameOf(KeyTable table) => table.Name.Replace(' ', '-');
}
