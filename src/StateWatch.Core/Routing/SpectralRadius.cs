using System.Numerics;
using System.Runtime.InteropServices;

namespace StateWatch.Core.Routing;

/// <summary>
/// The largest eigenvalue of a square matrix whose entries are not negative: below 1, everything that goes round dies away. Iterates
/// K + I from a cold start, because periodic matrices (two loops that feed each other and nothing else) never settle without it, and no
/// number may depend on what was before. At every step min (xK)ᵢ/xᵢ ≤ ρ ≤ max (xK)ᵢ/xᵢ (Collatz and Wielandt; Horn and Johnson, Matrix
/// Analysis, chapter 8) as long as every entry of x is more than 0.
/// </summary>
public static class SpectralRadius
{
    private const int MostSteps = 20_000;

    /// <summary>Finds it for a matrix that is strongly connected (every row reaches every other), or of one row.</summary>
    /// <param name="matrix">Entries row by row, none negative.</param>
    /// <param name="size">Rows, 1 or more.</param>
    /// <param name="scratch">Room for 2 × <paramref name="size"/> numbers.</param>
    /// <param name="precision">Width of the bounds at which to stop, relative to the radius or to 1 if that is more.</param>
    /// <param name="edge">A value that matters: iteration also stops when both bounds lie on one side of it; NaN for none.</param>
    /// <returns>Lower and upper bound.</returns>
    public static (double Least, double Most) OfConnected(ReadOnlySpan<double> matrix, int size, Span<double> scratch, double precision = 1e-12, double edge = double.NaN)
    {
        if (size == 1)
            return (matrix[0], matrix[0]);
        scratch[..size].Fill(1);
        return Iterate(matrix, size, scratch, precision, edge, MostSteps);
    }

    /// <summary>Goes on from the vector in the first half of <paramref name="scratch"/> and leaves a better one there: the left eigenvector in the end.</summary>
    internal static (double Least, double Most) Iterate(ReadOnlySpan<double> matrix, int size, Span<double> scratch, double precision, double edge, int steps)
    {
        var x = scratch[..size];
        var next = scratch.Slice(size, size);
        double least = 0, most = double.PositiveInfinity;
        for (var step = 0; step < steps; step++)
        {
            // Row by row, so that each sum is made in one order, whatever the width of the machine's vectors.
            x.CopyTo(next);
            for (var row = 0; row < size; row++)
                Add(x[row], matrix.Slice(row * size, size), next);
            double low = double.PositiveInfinity, high = 0, largest = 0;
            for (var i = 0; i < size; i++)
            {
                var ratio = next[i] / x[i];
                low = Math.Min(low, ratio);
                high = Math.Max(high, ratio);
                largest = Math.Max(largest, next[i]);
            }

            // The bounds of K + I, less 1; each step may only narrow them.
            least = Math.Max(least, low - 1);
            most = Math.Min(most, high - 1);
            if (double.IsInfinity(largest))
                break;
            for (var i = 0; i < size; i++)
                x[i] = next[i] / largest;
            if (most - least <= precision * Math.Max(most, 1) || least >= edge || most < edge)
                break;
        }

        return (Math.Max(0, least), most);
    }

    /// <summary>Adds a multiple of one row to another.</summary>
    internal static void Add(double factor, ReadOnlySpan<double> from, Span<double> to)
    {
        var source = MemoryMarshal.Cast<double, Vector<double>>(from);
        var target = MemoryMarshal.Cast<double, Vector<double>>(to);
        for (var i = 0; i < target.Length; i++)
            target[i] += factor * source[i];
        for (var i = target.Length * Vector<double>.Count; i < to.Length; i++)
            to[i] += factor * from[i];
    }
}
