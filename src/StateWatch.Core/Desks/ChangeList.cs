namespace StateWatch.Core.Desks;

/// <summary>Setting ids, each once, in the order in which they came. Room for all is taken at once.</summary>
internal sealed class ChangeList(int settings)
{
    private readonly int[] _items = new int[settings];
    private readonly bool[] _has = new bool[settings];
    private int _count;

    public ReadOnlySpan<int> Items => _items.AsSpan(0, _count);

    public void Add(int setting)
    {
        if (_has[setting])
            return;
        _has[setting] = true;
        _items[_count++] = setting;
    }

    public void Clear()
    {
        foreach (var setting in Items)
            _has[setting] = false;
        _count = 0;
    }
}
