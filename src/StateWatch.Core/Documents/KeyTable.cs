namespace StateWatch.Core.Documents;

/// <summary>Every key of one kind of mapping. What is not in it cannot be read; what nobody reads makes a test fail.</summary>
/// <param name="name">What the mapping is called, in one or two words: "feed", "plan".</param>
/// <param name="words">What the mapping is, in a sentence.</param>
/// <param name="rows">Its keys in the order of the reference.</param>
public sealed class KeyTable(string name, string words, params KeyInfo[] rows)
{
    /// <summary>What the mapping is called.</summary>
    public string Name { get; } = name;

    /// <summary>What the mapping is, in a sentence.</summary>
    public string Words { get; } = words;

    /// <summary>Its keys in the order of the reference.</summary>
    public ReadOnlySpan<KeyInfo> Rows => rows;

    /// <summary>
    /// The key by which a file of these keys lies over another, or null. Mappings are laid over each other key by key, so such a file alone need not say what is required;
    /// lists are replaced whole.
    /// </summary>
    public string? LaysOver { get; init; }

    /// <summary>The keys alone, for suggestions.</summary>
    public IReadOnlyList<string> Keys => Array.ConvertAll(rows, row => row.Key);

    /// <summary>The row of a key, or null.</summary>
    public KeyInfo? Find(string key)
    {
        foreach (var row in rows)
        {
            if (row.Key == key)
                return row;
        }

        return null;
    }

    /// <summary>The row of a key that a reader takes.</summary>
    /// <exception cref="ArgumentException">There is no such row: a fault of the reader, never of a file.</exception>
    public KeyInfo this[string key] => Find(key) ?? throw new ArgumentException($"the table of a {Name} has no row for '{key}'", nameof(key));

    /// <summary>The closed list of words under a key.</summary>
    /// <exception cref="ArgumentException">There is no such row, or it holds no words: a fault of the reader, never of a file.</exception>
    public IReadOnlyList<string> WordsOf(string key) =>
        (this[key].Shape as WordShape ?? throw new ArgumentException($"'{key}' of a {Name} is no word of a list", nameof(key))).Words;
}
