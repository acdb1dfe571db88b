namespace StateWatch.Core.Documents;

/// <summary>Lays one file over another, key by key: what the upper one says counts, what it does not say stays. Every value keeps its own place.</summary>
public static class MapOverlay
{
    /// <summary>Lays a mapping over another.</summary>
    /// <param name="lower">The mapping below.</param>
    /// <param name="upper">The mapping above. Mappings in both are merged; lists and single values replace what is below.</param>
    public static MapNode Lay(MapNode lower, MapNode upper)
    {
        var entries = new List<MapEntry>(lower.Entries.Count + upper.Entries.Count);
        var unlaid = upper.Entries.ToDictionary(entry => entry.Key.Text, StringComparer.Ordinal);
        foreach (var below in lower.Entries)
        {
            _ = unlaid.Remove(below.Key.Text, out var above);
            entries.Add((below.Value, above.Value) switch
            {
                (_, null) => below,
                (MapNode lowerMap, MapNode upperMap) => new MapEntry(above.Key, Lay(lowerMap, upperMap)),
                _ => above,
            });
        }

        entries.AddRange(upper.Entries.Where(entry => unlaid.ContainsKey(entry.Key.Text)));
        return new MapNode(upper.At, entries);
    }
}
