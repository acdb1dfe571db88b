namespace StateWatch.Core.Acoustics;

/// <summary>Who hears whom, in rising order from either side, so that what hears nothing costs nothing.</summary>
internal sealed class CouplingList(int size, int others)
{
    private readonly int[] _others = new int[size * others];
    private readonly int[] _otherCount = new int[size];
    private readonly int[] _own = new int[size * others];
    private readonly int[] _ownCount = new int[others];

    /// <summary>Those of the other side that are coupled to one of this side.</summary>
    public ReadOnlySpan<int> OthersOf(int own) => _others.AsSpan(own * others, _otherCount[own]);

    /// <summary>Those of this side that are coupled to one of the other.</summary>
    public ReadOnlySpan<int> OwnOf(int other) => _own.AsSpan(other * size, _ownCount[other]);

    /// <summary>Couples two or parts them.</summary>
    public void Set(int own, int other, bool coupled)
    {
        Set(_others.AsSpan(own * others, others), ref _otherCount[own], other, coupled);
        Set(_own.AsSpan(other * size, size), ref _ownCount[other], own, coupled);
    }

    private static void Set(Span<int> list, ref int count, int item, bool present)
    {
        var at = list[..count].BinarySearch(item);
        if (present == at >= 0)
            return;
        if (present)
        {
            list[~at..count].CopyTo(list[(~at + 1)..]);
            list[~at] = item;
            count++;
        }
        else
        {
            list[(at + 1)..count].CopyTo(list[at..]);
            count--;
        }
    }
}
