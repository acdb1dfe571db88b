namespace StateWatch.Core.Documents;

/// <summary>A piece of a file as written, with its place.</summary>
public abstract class Node
{
    private protected Node(Origin at) => At = at;

    /// <summary>Where it begins.</summary>
    public Origin At { get; }

    /// <summary>What it is, for messages: "a mapping", "a list", "a value".</summary>
    public abstract string Shape { get; }
}

/// <summary>A single value, raw: <c>on</c>, <c>no</c>, <c>0x12</c> are what the field says.</summary>
public sealed class ScalarNode(Origin at, string text, bool plain) : Node(at)
{
    /// <summary>The text without quotes.</summary>
    public string Text { get; } = text;

    /// <summary>Whether it stood without quotes.</summary>
    public bool Plain { get; } = plain;

    /// <inheritdoc/>
    public override string Shape => "a value";
}

/// <summary>A list.</summary>
public sealed class ListNode(Origin at, IReadOnlyList<Node> items) : Node(at)
{
    /// <summary>The items in order.</summary>
    public IReadOnlyList<Node> Items { get; } = items;

    /// <inheritdoc/>
    public override string Shape => "a list";
}

/// <summary>One key with its value.</summary>
/// <param name="Key">The key.</param>
/// <param name="Value">The value.</param>
public readonly record struct MapEntry(ScalarNode Key, Node Value);

/// <summary>A mapping; keys are unique.</summary>
public sealed class MapNode(Origin at, IReadOnlyList<MapEntry> entries) : Node(at)
{
    /// <summary>The entries in order of writing.</summary>
    public IReadOnlyList<MapEntry> Entries { get; } = entries;

    /// <inheritdoc/>
    public override string Shape => "a mapping";

    /// <summary>The value under a key, or null.</summary>
    public Node? Find(string key)
    {
        foreach (var entry in Entries)
        {
            if (entry.Key.Text == key)
                return entry.Value;
        }

        return null;
    }
}
