namespace StateWatch.Core.Routing;

/// <summary>Numbers that wait to be dealt with, each once.</summary>
internal sealed class PendingSet(int capacity)
{
    private readonly int[] _items = new int[capacity];
    private readonly bool[] _waits = new bool[capacity];
    private int _count;

    /// <summary>Adds a number that does not wait yet.</summary>
    public void Add(int item)
    {
        if (_waits[item])
            return;
        _waits[item] = true;
        _items[_count++] = item;
    }

    /// <summary>Everything that waited; nothing does any more. Valid until the next <see cref="Add"/>.</summary>
    public ReadOnlySpan<int> Take()
    {
        var taken = _items.AsSpan(0, _count);
        foreach (var item in taken)
            _waits[item] = false;
        _count = 0;
        return taken;
    }
}
