namespace StateWatch.Core.Profiles;

/// <summary>How many strips, banked sockets and outputs, and other numbered things a desk has.</summary>
public sealed class StripCounts
{
    private readonly Dictionary<string, int> _strips = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _banks = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _slots = new(StringComparer.Ordinal);
    private readonly HashSet<string> _stereo = new(StringComparer.Ordinal);

    /// <summary>Number of strips of a kind, 0 when there are none.</summary>
    public int Strips(string kind) => _strips.GetValueOrDefault(kind);

    /// <summary>Number of sockets or outputs of a bank, 0 when there are none.</summary>
    /// <param name="kind"><c>socket</c> or <c>output</c>.</param>
    /// <param name="bank">Bank word.</param>
    public int Bank(string kind, string bank) => _banks.GetValueOrDefault($"{kind}/{bank}");

    /// <summary>Number of other numbered things, such as insert slots.</summary>
    public int Slots(string word) => _slots.GetValueOrDefault(word);

    /// <summary>Whether strips of a kind carry left and right in one.</summary>
    public bool IsStereo(string kind) => _stereo.Contains(kind);

    /// <summary>The bank words of sockets or outputs.</summary>
    public IEnumerable<string> Banks(string kind) =>
        _banks.Keys.Where(key => key.StartsWith(kind + "/", StringComparison.Ordinal)).Select(key => key[(kind.Length + 1)..]);

    /// <summary>What a word in a path or point counts, or 0: a strip kind, a bank of <paramref name="banksOf"/>, or a slot.</summary>
    public int Count(string word, string banksOf)
    {
        var bank = Bank(banksOf, word);
        return bank > 0 ? bank : Strips(word) > 0 ? Strips(word) : Slots(word);
    }

    internal void AddStrips(string kind, int count, bool stereo)
    {
        _strips[kind] = count;
        if (stereo)
            _stereo.Add(kind);
    }

    internal void AddBank(string kind, string bank, int count) => _banks[$"{kind}/{bank}"] = count;

    internal void AddSlots(string word, int count) => _slots[word] = count;
}
