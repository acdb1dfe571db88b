namespace StateWatch.Core.Routing;

/// <summary>
/// The largest eigenvalue of a square matrix whose entries are not negative: below 1, everything that goes round dies away. Iterates
/// K + I from a cold start, because periodic matrices (two loops that feed each other and nothing else) never settle without it, and no
/// number may depend on what was before. At every step min (Kx)ᵢ/xᵢ ≤ ρ ≤ max (Kx)ᵢ/xᵢ (Collatz and Wielandt; Horn and Johnson, Matrix
/// Analysis, chapter 8) as long as every entry of x is more than 0.
/// </summary>
public static class SpectralRadius
{
    private const int MostSteps = 20_000;

    /// <summary>Finds it for a matrix that is strongly connected (every row reaches every other), or of one row.</summary>
    /// <param name="matrix">Entries row by row, none negative.</param>
    /// <param name="size">Rows, 1 or more.</param>
    /// <param name="scratch">Room for 2 × <paramref name="size"/> numbers.</param>
    /// <param name="precision">Relative width of the bounds at which to stop.</param>
    /// <param name="edge">A value that matters: iteration also stops when both bounds lie on one side of it; NaN for none.</param>
    /// <returns>Lower and upper bound.</returns>
    public static (double Least, double Most) OfConnected(ReadOnlySpan<double> matrix, int size, Span<double> scratch, double precision = 1e-12, double edge = double.NaN)
    {
        if (size == 1)
            return (matrix[0], matrix[0]);
        var x = scratch[..size];
        var next = scratch.Slice(size, size);
        x.Fill(1);
        double least = 0, most = double.PositiveInfinity;
        for (var step = 0; step < MostSteps; step++)
        {
            double low = double.PositiveInfinity, high = 0, largest = 0;
            for (var row = 0; row < size; row++)
            {
                var sum = x[row];
                var entries = matrix.Slice(row * size, size);
                for (var column = 0; column < size; column++)
                    sum += entries[column] * x[column];
                next[row] = sum;
                var ratio = sum / x[row];
                low = Math.Min(low, ratio);
                high = Math.Max(high, ratio);
                largest = Math.Max(largest, sum);
            }

            // The bounds of K + I, less 1; each step may only narrow them.
            least = Math.Max(least, low - 1);
            most = Math.Min(most, high - 1);
            if (most - least <= precision * Math.Max(most, 1) || least >= edge || most < edge || double.IsInfinity(largest))
                break;
            for (var row = 0; row < size; row++)
                x[row] = next[row] / largest;
        }

        return (Math.Max(0, least), most);
    }
}
