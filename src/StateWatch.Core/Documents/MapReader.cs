using System.Globalization;

namespace StateWatch.Core.Documents;

/// <summary>
/// Reads the keys of one mapping by its table and says which nobody knows. Create it, take the keys, then call
/// <see cref="Finish"/>: what is left over is an unknown key, with the nearest known word.
/// </summary>
/// <param name="map">The mapping as written.</param>
/// <param name="table">The keys there are. Taking a key that has no row is a fault of the caller and throws.</param>
/// <param name="diagnostics">Gets every fault.</param>
public sealed class MapReader(MapNode map, KeyTable table, DiagnosticBag diagnostics)
{
    // One bit for each of the first entries, which is nearly always all of them.
    private ulong _taken;
    private HashSet<int>? _takenBeyond;

    /// <summary>The mapping that is read.</summary>
    public MapNode Map { get; } = map;

    /// <summary>The keys there are.</summary>
    public KeyTable Table { get; } = table;

    /// <summary>Where all faults go.</summary>
    public DiagnosticBag Diagnostics { get; } = diagnostics;

    /// <summary>The value under a key, or null when it is not there.</summary>
    public Node? Take(string key)
    {
        _ = Table[key];
        for (var i = 0; i < Map.Entries.Count; i++)
        {
            if (Map.Entries[i].Key.Text != key)
                continue;
            if (i < 64)
                _taken |= 1UL << i;
            else
                (_takenBeyond ??= []).Add(i);
            return Map.Entries[i].Value;
        }

        return null;
    }

    /// <summary>The value under a key that must be there; a diagnostic and null when it is not.</summary>
    public Node? Require(string key)
    {
        var node = Take(key);
        if (node is null)
            Diagnostics.Add(DocumentCodes.MissingKey, Map.At, $"'{key}' is missing", $"add a line such as '{key}: {Table[key].Example}'");
        return node;
    }

    /// <summary>A single value under a key, or null.</summary>
    public ScalarNode? Scalar(string key) => AsScalar(Take(key), key);

    /// <summary>A single value under a key that must be there, or null after a diagnostic.</summary>
    public ScalarNode? RequireScalar(string key) => AsScalar(Require(key), key);

    /// <summary>A mapping under a key, or null.</summary>
    public MapNode? Mapping(string key)
    {
        var node = Take(key);
        if (node is null or MapNode)
            return (MapNode?)node;
        WrongShape(node, key, "a mapping of keys to values");
        return null;
    }

    /// <summary>A mapping under a key that must be there, or null after a diagnostic.</summary>
    public MapNode? RequireMapping(string key)
    {
        var node = Require(key);
        if (node is not null and not MapNode)
            WrongShape(node, key, "a mapping of keys to values");
        return node as MapNode;
    }

    /// <summary>A list under a key, or null; a single value counts as a list of one.</summary>
    public IReadOnlyList<Node>? Items(string key)
    {
        switch (Take(key))
        {
            case null:
                return null;
            case ListNode list:
                return list.Items;
            case ScalarNode scalar:
                return [scalar];
            case var other:
                WrongShape(other, key, "a list");
                return null;
        }
    }

    /// <summary>A whole number under a key, within its row's range; its row's default (or 0) when it is not there or faulty.</summary>
    public int WholeNumber(string key)
    {
        var row = Table[key];
        var fallback = row.Default is null ? 0 : int.Parse(row.Default, CultureInfo.InvariantCulture);
        return Scalar(key) is { } scalar ? ReadWholeNumber(scalar, key, (WholeShape)row.Shape, Diagnostics) ?? fallback : fallback;
    }

    /// <summary>Reads a whole number, within a range, or null after a diagnostic.</summary>
    public static int? ReadWholeNumber(ScalarNode scalar, string what, WholeShape range, DiagnosticBag diagnostics)
    {
        if (!int.TryParse(scalar.Text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var value))
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a whole number", $"write {what} as a number, {range.Least} to {range.Most}");
        else if (value < range.Least || value > range.Most)
            diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"{what} is {value}, but {range.Least} to {range.Most} is allowed", null);
        else
            return value;
        return null;
    }

    /// <summary>A yes/no under a key, written <c>true</c>/<c>false</c>, <c>yes</c>/<c>no</c> or <c>on</c>/<c>off</c>.</summary>
    public bool Flag(string key)
    {
        var scalar = Scalar(key);
        switch (scalar?.Text)
        {
            case null or "false" or "no" or "off":
                return false;
            case "true" or "yes" or "on":
                return true;
            default:
                Diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is neither true nor false", "write true or false",
                    NearestWord.Among(scalar.Text, ["true", "false"]));
                return false;
        }
    }

    /// <summary>Reports every key that nobody took.</summary>
    public void Finish()
    {
        for (var i = 0; i < Map.Entries.Count; i++)
        {
            if (i < 64 ? (_taken & (1UL << i)) == 0 : _takenBeyond?.Contains(i) != true)
                ReportUnknown(Map.Entries[i].Key, Table.Keys, Diagnostics);
        }
    }

    /// <summary>Reports an unknown key with the nearest known one.</summary>
    public static void ReportUnknown(ScalarNode key, IReadOnlyCollection<string> known, DiagnosticBag diagnostics)
    {
        var near = NearestWord.Among(key.Text, known, diagnostics);
        var advice = near is not null ? $"did you mean '{near}'?" : diagnostics.IsFull ? null : $"known here: {string.Join(", ", known.Take(40))}";
        diagnostics.Add(DocumentCodes.UnknownKey, key.At, $"'{key.Text}' is not a key here", advice, near);
    }

    private ScalarNode? AsScalar(Node? node, string key)
    {
        if (node is null or ScalarNode)
            return (ScalarNode?)node;
        WrongShape(node, key, "a single value");
        return null;
    }

    private void WrongShape(Node node, string key, string wanted) =>
        Diagnostics.Add(DocumentCodes.WrongShape, node.At, $"'{key}' holds {node.Shape}, but {wanted} belongs here", null);
}
