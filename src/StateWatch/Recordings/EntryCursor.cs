using System.Text;

namespace StateWatch.Recordings;

/// <summary>Reads the rest of one entry, which may be anything. Once something was not there, nothing is.</summary>
internal ref struct EntryCursor(ReadOnlySpan<byte> bytes)
{
    private ReadOnlySpan<byte> _rest = bytes;

    /// <summary>Whether everything that was wanted was there.</summary>
    public bool IsSound { get; private set; } = true;

    /// <summary>Whether everything was there and nothing is left.</summary>
    public readonly bool IsDone => IsSound && _rest.IsEmpty;

    /// <summary>A number; zero at the end, where zeros are left out.</summary>
    public long Number()
    {
        if (_rest.IsEmpty)
            return 0;
        var value = 0UL;
        for (var i = 0; i < 10 && i < _rest.Length; i++)
        {
            value |= (ulong)(_rest[i] & 0x7F) << (7 * i);
            if (_rest[i] >= 0x80)
                continue;
            _rest = _rest[(i + 1)..];
            return (long)(value >> 1) ^ -(long)(value & 1);
        }

        IsSound = false;
        _rest = [];
        return 0;
    }

    /// <summary>All bytes that are left.</summary>
    public ReadOnlySpan<byte> Bytes()
    {
        var all = _rest;
        _rest = [];
        return all;
    }

    /// <summary>All bytes that are left, as text.</summary>
    public string Text() => Encoding.UTF8.GetString(Bytes());
}
