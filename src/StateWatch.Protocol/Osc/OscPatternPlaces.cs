using System.Numerics;

namespace StateWatch.Protocol.Osc;

/// <summary>A set of places 0 … length in an address part: those reached so far, and those reached by the step under way.</summary>
internal ref struct OscPatternPlaces
{
    private readonly int _length;
    private Span<ulong> _reached;
    private Span<ulong> _next;

    /// <summary>Starts with place 0 alone.</summary>
    /// <param name="reached">Room for length + 1 bits.</param>
    /// <param name="next">As much room again.</param>
    /// <param name="length">The last place.</param>
    public OscPatternPlaces(Span<ulong> reached, Span<ulong> next, int length)
    {
        var words = (length / 64) + 1;
        _length = length;
        _reached = reached[..words];
        _next = next[..words];
        _reached.Clear();
        _next.Clear();
        _reached[0] = 1;
        First = 0;
    }

    /// <summary>The first place reached; more than the last place when there is none.</summary>
    public int First { readonly get; private set; }

    public readonly bool AreNone => First > _length;

    public readonly bool Contains(int place) => (_reached[place / 64] >> (place & 63) & 1) != 0;

    /// <summary>The next place reached after <paramref name="place"/>; more than the last place when there is none.</summary>
    public readonly int After(int place)
    {
        var index = ++place / 64;
        if (index >= _reached.Length)
            return _length + 1;
        var word = _reached[index] & (ulong.MaxValue << (place & 63));
        while (word == 0)
        {
            if (++index == _reached.Length)
                return _length + 1;
            word = _reached[index];
        }

        return (index * 64) + BitOperations.TrailingZeroCount(word);
    }

    /// <summary>Marks a place as reached by the step under way.</summary>
    public readonly void Reach(int place) => _next[place / 64] |= 1UL << (place & 63);

    /// <summary>Ends the step.</summary>
    public void Advance()
    {
        var spare = _reached;
        _reached = _next;
        _next = spare;
        _next.Clear();
        First = (_reached[0] & 1) != 0 ? 0 : After(0);
    }

    /// <summary>A step of any length: every place from the first on is reached.</summary>
    public void ReachOnward()
    {
        for (var place = First; place <= _length; place++)
            Reach(place);
        Advance();
    }
}
