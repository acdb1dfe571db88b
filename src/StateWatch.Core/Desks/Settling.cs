using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>Invalidations whose desk is still settling. Each further message makes it wait again, up to ten times as long in all.</summary>
internal sealed class Settling(IReadOnlyList<Invalidation> rules, long frequency)
{
    private const int MostExtensions = 10;

    private readonly long[] _since = new long[rules.Count];
    private readonly long[] _until = [.. Enumerable.Repeat(long.MaxValue, rules.Count)];

    /// <summary>When the next one has settled.</summary>
    public long NextDue { get; private set; } = long.MaxValue;

    /// <summary>Whether one after which everything is read is settling.</summary>
    public bool IsAll { get; private set; }

    /// <summary>A message came.</summary>
    /// <returns>Whether it is the first one since the last time it settled.</returns>
    public bool Begin(int rule, long now)
    {
        var first = _until[rule] == long.MaxValue;
        if (first)
            _since[rule] = now;
        var settle = (long)(rules[rule].Settle.TotalSeconds * frequency);
        _until[rule] = Math.Min(now + settle, _since[rule] + (MostExtensions * settle));
        Refresh();
        return first;
    }

    public bool TryTake(long now, out int rule)
    {
        rule = -1;
        if (NextDue > now)
            return false;
        rule = Array.IndexOf(_until, NextDue);
        _until[rule] = long.MaxValue;
        Refresh();
        return true;
    }

    public void Clear()
    {
        Array.Fill(_until, long.MaxValue);
        Refresh();
    }

    private void Refresh()
    {
        NextDue = long.MaxValue;
        IsAll = false;
        for (var rule = 0; rule < _until.Length; rule++)
        {
            NextDue = Math.Min(NextDue, _until[rule]);
            IsAll |= _until[rule] != long.MaxValue && rules[rule].Endpoints is null;
        }
    }
}
