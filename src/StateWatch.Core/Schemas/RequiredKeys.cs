using System.Text.Json;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Schemas;

/// <summary>
/// What a file must say that lies over no other. A file that does lie over another says as much as it likes, so its schema asks for required keys in an
/// <c>else</c> of its own and not in the mappings themselves; what stands in lists is whole in any case.
/// </summary>
internal sealed class RequiredKeys(KeyTable root)
{
    private readonly HashSet<KeyTable> _tables = [];

    /// <summary>The required keys of a mapping.</summary>
    public static IReadOnlyList<string> Of(KeyTable table, IReadOnlyList<string> also) =>
        [.. table.Rows.ToArray().Where(row => row.Required || also.Contains(row.Key)).Select(row => row.Key)];

    /// <summary>Whether the required keys of a mapping are asked for here.</summary>
    public bool Has(KeyTable table)
    {
        if (_tables.Count == 0)
            Collect(new TableShape(root));
        return _tables.Contains(table);
    }

    /// <summary>Writes <c>if</c> and <c>else</c> into the object that is open. What no file may leave out is required in both.</summary>
    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject("if");
        WriteNames(json, [root.LaysOver!]);
        json.WriteEndObject();
        json.WriteStartObject("then");
        WriteNames(json, [root.Keys[0]]);
        json.WriteEndObject();
        json.WriteStartObject("else");
        WriteTable(json, root, []);
        json.WriteEndObject();
    }

    private void Collect(ValueShape shape)
    {
        switch (shape)
        {
            case TableShape { Table: var table } when _tables.Add(table):
                foreach (var row in table.Rows)
                    Collect(row.Shape);
                break;
            case MapShape map:
                Collect(map.Value);
                break;
            case SettingsShape { Other: { } other }:
                Collect(other);
                break;
            case EitherShape either:
                foreach (var one in either.Shapes)
                    Collect(one);
                break;
        }
    }

    private static bool Asks(ValueShape shape) => shape switch
    {
        TableShape table => Of(table.Table, table.Also).Count > 0 || table.Table.Rows.ToArray().Any(row => Asks(row.Shape)),
        MapShape map => Asks(map.Value),
        SettingsShape { Other: { } other } => Asks(other),
        EitherShape either => either.Shapes.Any(Asks),
        _ => false,
    };

    // "required" and "properties" say nothing of a value that is no mapping, so what may be either is safe.
    private static void WriteShape(Utf8JsonWriter json, ValueShape shape)
    {
        switch (shape)
        {
            case TableShape table:
                WriteTable(json, table.Table, table.Also);
                break;
            case MapShape map:
                if (map.Telling is { } telling)
                    WriteProperties(json, telling.Keys.Select(key => (key, telling.Value)));
                WriteOthers(json, map.Value);
                break;
            case SettingsShape { Other: { } other }:
                WriteOthers(json, other);
                break;
            case EitherShape either:
                WriteEither(json, [.. either.Shapes.Where(Asks)]);
                break;
        }
    }

    private static void WriteTable(Utf8JsonWriter json, KeyTable table, IReadOnlyList<string> also)
    {
        if (Of(table, also) is { Count: > 0 } names)
            WriteNames(json, names);
        var deeper = table.Rows.ToArray().Where(row => Asks(row.Shape)).ToList();
        if (deeper.Count > 0)
            WriteProperties(json, deeper.Select(row => (row.Key, row.Shape)));
    }

    private static void WriteEither(Utf8JsonWriter json, List<ValueShape> asking)
    {
        if (asking is [var only])
        {
            WriteShape(json, only);
            return;
        }

        json.WriteStartArray("anyOf");
        foreach (var shape in asking)
        {
            json.WriteStartObject();
            WriteShape(json, shape);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteProperties(Utf8JsonWriter json, IEnumerable<(string Key, ValueShape Shape)> rows)
    {
        json.WriteStartObject("properties");
        foreach (var (key, shape) in rows)
        {
            json.WriteStartObject(key);
            WriteShape(json, shape);
            json.WriteEndObject();
        }

        json.WriteEndObject();
    }

    private static void WriteOthers(Utf8JsonWriter json, ValueShape shape)
    {
        json.WriteStartObject("additionalProperties");
        WriteShape(json, shape);
        json.WriteEndObject();
    }

    private static void WriteNames(Utf8JsonWriter json, IReadOnlyList<string> names)
    {
        json.WriteStartArray("required");
        foreach (var name in names)
            json.WriteStringValue(name);
        json.WriteEndArray();
    }
}
