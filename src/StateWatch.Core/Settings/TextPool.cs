using System.Text;

namespace StateWatch.Core.Settings;

/// <summary>
/// Gives every text that a plan or a desk names one small number, so that a value stays 16 bytes and known texts are found
/// without allocation. Append-only and bounded: a desk that sends ever new texts cannot fill the memory. Safe for several threads.
/// </summary>
public sealed class TextPool
{
    /// <summary>The most texts that are kept.</summary>
    public const int Capacity = 100_000;

    /// <summary>The longest text, in bytes of UTF-8.</summary>
    public const int LongestText = 256;

    private readonly Lock _gate = new();
    private readonly Dictionary<string, int> _ids = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int>.AlternateLookup<ReadOnlySpan<char>> _lookup;
    private readonly List<string> _texts = [];

    /// <summary>Makes a pool that holds the empty text as 0.</summary>
    public TextPool()
    {
        _lookup = _ids.GetAlternateLookup<ReadOnlySpan<char>>();
        _ = Intern("");
    }

    /// <summary>How many texts it holds.</summary>
    public int Count
    {
        get
        {
            lock (_gate)
                return _texts.Count;
        }
    }

    /// <summary>Whether no new text is added any more.</summary>
    public bool IsFull => Count >= Capacity;

    /// <summary>The text behind a number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number was never given.</exception>
    public string this[int id]
    {
        get
        {
            lock (_gate)
                return _texts[id];
        }
    }

    /// <summary>The number of a text, adding it when new.</summary>
    /// <returns>The number, or -1 when the pool is full or the text too long.</returns>
    public int Intern(ReadOnlySpan<char> text)
    {
        lock (_gate)
        {
            if (_lookup.TryGetValue(text, out var id))
                return id;
            if (_texts.Count >= Capacity || text.Length > LongestText)
                return -1;
            var kept = text.ToString();
            _ids.Add(kept, _texts.Count);
            _texts.Add(kept);
            return _texts.Count - 1;
        }
    }

    /// <summary>The number of a text that is already known, from the wire; nothing is added.</summary>
    /// <returns>The number, or -1 when the text is not known.</returns>
    public int Find(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > LongestText)
            return -1;
        Span<char> chars = stackalloc char[LongestText];
        var length = Encoding.UTF8.GetChars(utf8, chars);
        lock (_gate)
            return _lookup.TryGetValue(chars[..length], out var id) ? id : -1;
    }

    /// <summary>The number of a text from the wire, adding it when new; bytes that are not UTF-8 read as the replacement character.</summary>
    /// <returns>The number, or -1 when the pool is full or the text too long.</returns>
    public int Intern(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > LongestText)
            return -1;
        Span<char> chars = stackalloc char[LongestText];
        var length = Encoding.UTF8.GetChars(utf8, chars);
        return Intern(chars[..length]);
    }
}
