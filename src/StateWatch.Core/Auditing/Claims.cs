namespace StateWatch.Core.Auditing;

/// <summary>
/// Which checks claim which settings: what a told violation says of a setting explains whatever later checks would say of it. Allocates only
/// when there are more claims than ever before.
/// </summary>
/// <param name="settings">How many settings there are.</param>
/// <param name="checks">How many checks there are.</param>
internal sealed class Claims(int settings, int checks)
{
    private const int None = 0;

    // By setting and by check, lists of entries; entry 0 is the end of a list.
    private readonly int[] _firstOfSetting = new int[settings];
    private readonly int[] _firstOfCheck = new int[checks];
    private Entry[] _entries = new Entry[64];
    private int _used = 1;
    private int _free;

    /// <summary>Whether a check claims anything.</summary>
    public bool HasAny(int check) => _firstOfCheck[check] != None;

    /// <summary>Whether a check of a lower number claims a setting.</summary>
    public bool IsClaimedBefore(int setting, int check)
    {
        for (var at = _firstOfSetting[setting]; at != None; at = _entries[at].NextOfSetting)
        {
            if (_entries[at].Check < check)
                return true;
        }

        return false;
    }

    /// <summary>Whether a check claims exactly these settings, as they were set.</summary>
    public bool Are(int check, List<int> claimed)
    {
        var i = claimed.Count;
        for (var at = _firstOfCheck[check]; at != None; at = _entries[at].NextOfCheck)
        {
            if (--i < 0 || claimed[i] != _entries[at].Setting)
                return false;
        }

        return i == 0;
    }

    /// <summary>Takes one claim of a check away.</summary>
    /// <returns>The setting it claimed.</returns>
    public int TakeOne(int check)
    {
        var taken = _firstOfCheck[check];
        _firstOfCheck[check] = _entries[taken].NextOfCheck;
        ref var link = ref _firstOfSetting[_entries[taken].Setting];
        while (link != taken)
            link = ref _entries[link].NextOfSetting;
        link = _entries[taken].NextOfSetting;
        _entries[taken].NextOfSetting = _free;
        _free = taken;
        return _entries[taken].Setting;
    }

    /// <summary>Claims a setting for a check.</summary>
    public void Add(int check, int setting)
    {
        var entry = _free;
        if (entry != None)
        {
            _free = _entries[entry].NextOfSetting;
        }
        else
        {
            entry = _used++;
            if (entry == _entries.Length)
                Array.Resize(ref _entries, 2 * entry);
        }

        _entries[entry] = new Entry(check, setting) { NextOfSetting = _firstOfSetting[setting], NextOfCheck = _firstOfCheck[check] };
        _firstOfSetting[setting] = _firstOfCheck[check] = entry;
    }

    private struct Entry(int check, int setting)
    {
        public readonly int Check = check;
        public readonly int Setting = setting;
        public int NextOfSetting;
        public int NextOfCheck;
    }
}
