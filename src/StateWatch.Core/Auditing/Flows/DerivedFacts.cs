namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// Numbers of what is derived from settings and may decide a check, above all setting ids; and which of them changed since they were last
/// taken. Nothing is allocated once all numbers are given out.
/// </summary>
/// <param name="first">The first number.</param>
internal sealed class DerivedFacts(int first)
{
    private int[] _changed = [];
    private bool[] _waits = [];
    private int _count;

    /// <summary>The number behind the last one.</summary>
    public int End => first + _waits.Length;

    /// <summary>Gives out numbers in a row.</summary>
    /// <returns>The first of them.</returns>
    public int Reserve(int count)
    {
        var next = End;
        Array.Resize(ref _changed, _changed.Length + count);
        Array.Resize(ref _waits, _waits.Length + count);
        return next;
    }

    /// <summary>Notes that a fact changed.</summary>
    public void Mark(int fact)
    {
        if (_waits[fact - first])
            return;
        _waits[fact - first] = true;
        _changed[_count++] = fact;
    }

    /// <summary>The facts that changed, each once. Valid until the next one is marked.</summary>
    public ReadOnlySpan<int> Take()
    {
        var taken = _changed.AsSpan(0, _count);
        foreach (var fact in taken)
            _waits[fact - first] = false;
        _count = 0;
        return taken;
    }
}
