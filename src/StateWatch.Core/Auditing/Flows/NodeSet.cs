namespace StateWatch.Core.Auditing.Flows;

/// <summary>A set of nodes, one bit each.</summary>
internal readonly struct NodeSet(int nodes)
{
    private readonly ulong[] _words = new ulong[(nodes + 63) / 64];

    /// <summary>Whether a node is in it.</summary>
    public bool Contains(int node) => (_words[node >> 6] >> (node & 63) & 1) != 0;

    /// <summary>Adds a node.</summary>
    /// <returns>Whether it was not in it.</returns>
    public bool Add(int node)
    {
        var bit = 1UL << (node & 63);
        var isNew = (_words[node >> 6] & bit) == 0;
        _words[node >> 6] |= bit;
        return isNew;
    }

    /// <summary>Adds all nodes of another set.</summary>
    public void Add(NodeSet other)
    {
        for (var word = 0; word < _words.Length; word++)
            _words[word] |= other._words[word];
    }

    /// <summary>Adds all nodes.</summary>
    public void Fill() => Array.Fill(_words, ulong.MaxValue);

    /// <summary>Takes all nodes out.</summary>
    public void Clear() => Array.Clear(_words);

    /// <summary>Whether a node is in both.</summary>
    public bool Meets(NodeSet other)
    {
        for (var word = 0; word < _words.Length; word++)
        {
            if ((_words[word] & other._words[word]) != 0)
                return true;
        }

        return false;
    }
}
