namespace StateWatch.Core.Documents;

/// <summary>One key of a mapping: the row that its reader, the JSON Schema and the reference share.</summary>
/// <param name="key">The key as written.</param>
/// <param name="shape">What may stand under it, with range and unit.</param>
/// <param name="example">A good value as written, for "add a line such as …".</param>
/// <param name="words">What it means, in short sentences.</param>
public sealed class KeyInfo(string key, ValueShape shape, string example, string words)
{
    /// <summary>The key as written.</summary>
    public string Key { get; } = key;

    /// <summary>What may stand under it, with range and unit.</summary>
    public ValueShape Shape { get; } = shape;

    /// <summary>A good value as written.</summary>
    public string Example { get; } = example;

    /// <summary>What it means, in short sentences.</summary>
    public string Words { get; } = words;

    /// <summary>Whether the mapping is faulty without it.</summary>
    public bool Required { get; init; }

    /// <summary>What counts when it is not there, as it would be written; null when nothing does.</summary>
    public string? Default { get; init; }
}
