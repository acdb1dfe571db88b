using System.Numerics;

namespace StateWatch.Core.Acoustics;

/// <summary>
/// Long sums of which now and then one term changes: each is a binary tree whose shape only the number of its terms decides, so that a
/// changed term costs a path to the root, and the sum has the same bits whatever was changed before. Nothing is allocated once made.
/// </summary>
/// <param name="sums">How many sums there are.</param>
/// <param name="most">The most terms of one.</param>
internal sealed class TermTrees(int sums, int most)
{
    // Of more changed terms at once the whole tree is made anew.
    private const int Few = 4;

    // The root of a tree is at 1, the children of k at 2k and 2k + 1.
    private readonly int _stride = 2 * (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(most, 1));
    private readonly double[] _nodes = new double[sums * 2 * (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(most, 1))];
    private readonly int[] _changed = new int[sums * Few];
    private readonly int[] _count = new int[sums];

    /// <summary>Notes that a term of a sum changed.</summary>
    public void Touch(int sum, int term)
    {
        if (_count[sum] < Few)
            _changed[sum * Few + _count[sum]] = term;
        _count[sum] = Math.Min(_count[sum] + 1, Few + 1);
    }

    /// <summary>Notes that the terms of a sum are others than before.</summary>
    public void TouchAll(int sum) => _count[sum] = Few + 1;

    /// <summary>The sum, with what was touched taken from its terms.</summary>
    public double Update<T>(int sum, int terms, T values)
        where T : struct, ITerms, allows ref struct
    {
        var count = _count[sum];
        _count[sum] = 0;
        if (terms == 0)
            return 0;
        var leaves = (int)BitOperations.RoundUpToPowerOf2((uint)terms);
        var nodes = _nodes.AsSpan(sum * _stride, 2 * leaves);
        if (count > Few)
            return MakeAnew(nodes, leaves, terms, values);
        foreach (var term in _changed.AsSpan(sum * Few, count))
        {
            var at = leaves + term;
            nodes[at] = values[term];
            for (at >>= 1; at > 0; at >>= 1)
                nodes[at] = nodes[2 * at] + nodes[2 * at + 1];
        }

        return nodes[1];
    }

    private static double MakeAnew<T>(Span<double> nodes, int leaves, int terms, T values)
        where T : struct, ITerms, allows ref struct
    {
        for (var term = 0; term < terms; term++)
            nodes[leaves + term] = values[term];
        nodes[(leaves + terms)..].Clear();
        for (var at = leaves - 1; at > 0; at--)
            nodes[at] = nodes[2 * at] + nodes[2 * at + 1];
        return nodes[1];
    }

    /// <summary>The terms of a sum.</summary>
    public interface ITerms
    {
        /// <summary>One of them.</summary>
        double this[int term] { get; }
    }
}
