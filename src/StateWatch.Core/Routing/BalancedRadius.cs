namespace StateWatch.Core.Routing;

/// <summary>
/// The spectral radius of a strongly connected matrix without negative entries, however small or lopsided: the matrix is first balanced
/// (B. Parlett and C. Reinsch, Balancing a matrix for calculation of eigenvalues and eigenvectors, 1969) and scaled by powers of two, which
/// costs no digit. A few steps of K + I give bounds, and inverse iteration from the upper one closes them quadratically (T. Noda, Note on
/// the computation of the maximal eigenvalue of a non-negative irreducible matrix, 1971). Should rounding stop that, K + I is squared, each
/// time twice the steps: two loops of nearly the same gain that hardly hear each other would take millions of single ones. Whatever made
/// the vector, the bounds come from the matrix itself. Keeps its room between calls.
/// </summary>
internal sealed class BalancedRadius
{
    private const double Precision = 1e-12;
    private const int Sweeps = 100;
    private const int FirstSteps = 4;
    private const int InverseSteps = 16;
    private const int Squarings = 40;

    private readonly double[] _matrix;
    private readonly double[] _power;
    private readonly double[] _product;
    private readonly double[] _scratch;
    private readonly double[] _scale;

    /// <summary>Makes room for matrices of up to so many rows.</summary>
    public BalancedRadius(int largest)
    {
        _matrix = new double[largest * largest];
        _power = new double[largest * largest];
        _product = new double[largest * largest];
        _scratch = new double[2 * largest];
        _scale = new double[largest];
    }

    /// <summary>The upper bound of the radius, which lies within 10⁻¹¹ of it; +inf when an entry is.</summary>
    /// <param name="cells">A matrix row by row.</param>
    /// <param name="pitch">Its rows.</param>
    /// <param name="rows">Which rows and columns to look at, 1 or more; strongly connected.</param>
    /// <param name="turned">Look at rows as columns.</param>
    public double Of(ReadOnlySpan<double> cells, int pitch, ReadOnlySpan<int> rows, bool turned = false)
    {
        var size = rows.Length;
        var matrix = _matrix.AsSpan(0, size * size);
        var largest = 0.0;
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j < size; j++)
            {
                var cell = turned ? cells[rows[j] * pitch + rows[i]] : cells[rows[i] * pitch + rows[j]];
                matrix[i * size + j] = cell;
                largest = Math.Max(largest, cell);
            }
        }

        _scale.AsSpan(0, size).Fill(1);
        _scratch.AsSpan(0, size).Fill(1);
        if (size == 1 || !double.IsFinite(largest))
            return largest;
        var exponent = Math.ILogB(largest);
        Scale(matrix, -exponent);
        Balance(matrix, size);
        var shift = MiddleOfRowSums(matrix, size);
        Scale(matrix, -shift);
        return Math.ScaleB(Settle(matrix, size), shift + exponent);
    }

    /// <summary>Entry of the left eigenvector of what was last looked at (of the right one if it was turned), to a common factor.</summary>
    public double VectorAt(int row) => _scratch[row] / _scale[row];

    private double Settle(ReadOnlySpan<double> matrix, int size)
    {
        var (least, most) = SpectralRadius.Iterate(matrix, size, _scratch, Precision, double.NaN, FirstSteps);
        for (var step = 0; step < InverseSteps && !Agree(least, most) && SolveBelow(matrix, size, most); step++)
            Narrow(matrix, size, ref least, ref most);
        if (!Agree(least, most))
            SquareUntilSettled(matrix, size, ref least, ref most);
        return most;
    }

    private static bool Agree(double least, double most) => most - least <= Precision * Math.Max(most, 1);

    // One step of K + I, for its bounds.
    private void Narrow(ReadOnlySpan<double> matrix, int size, ref double least, ref double most)
    {
        var (low, high) = SpectralRadius.Iterate(matrix, size, _scratch, Precision, double.NaN, 1);
        least = Math.Max(least, low);
        most = Math.Min(most, high);
    }

    // y (bound I - K) = x. Nothing is subtracted but on the diagonal, so no pivot needs to be sought.
    private bool SolveBelow(ReadOnlySpan<double> matrix, int size, double bound)
    {
        var rows = _power.AsSpan(0, size * size);
        var x = _scratch.AsSpan(0, size);
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column < size; column++)
                rows[row * size + column] = matrix[column * size + row];
            rows[row * size + row] -= bound;
        }

        for (var pivot = 0; pivot < size; pivot++)
        {
            // At the radius itself nothing is left of the last one: a little less than nothing keeps the direction.
            ref var diagonal = ref rows[pivot * size + pivot];
            diagonal = Math.Min(diagonal, -1e-16 * bound);
            for (var row = pivot + 1; row < size; row++)
            {
                var factor = rows[row * size + pivot] / -diagonal;
                if (factor == 0)
                    continue;
                SpectralRadius.Add(factor, rows.Slice(pivot * size + pivot + 1, size - pivot - 1), rows.Slice(row * size + pivot + 1, size - pivot - 1));
                x[row] += factor * x[pivot];
            }
        }

        var largest = 0.0;
        for (var row = size - 1; row >= 0; row--)
        {
            for (var known = row + 1; known < size; known++)
                x[row] += rows[row * size + known] * x[known];
            x[row] /= -rows[row * size + row];
            largest = Math.Max(largest, x[row]);
        }

        foreach (ref var entry in x)
            entry /= largest;
        return AllPositive(x);
    }

    private void SquareUntilSettled(ReadOnlySpan<double> matrix, int size, ref double least, ref double most)
    {
        var power = _power.AsSpan(0, size * size);
        matrix.CopyTo(power);
        for (var i = 0; i < size; i++)
            power[i * size + i] += 1;
        for (var squaring = 0; squaring < Squarings; squaring++)
        {
            Square(power, size);
            if (!StartFrom(power, size))
                break;
            Narrow(matrix, size, ref least, ref most);
            if (Agree(least, most))
                break;
        }
    }

    // Sums of columns: what a start of ones has become after so many steps.
    private bool StartFrom(ReadOnlySpan<double> power, int size)
    {
        var x = _scratch.AsSpan(0, size);
        x.Clear();
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column < size; column++)
                x[column] += power[row * size + column];
        }

        return AllPositive(x);
    }

    private static bool AllPositive(ReadOnlySpan<double> x)
    {
        foreach (var entry in x)
        {
            if (!(entry > 0 && double.IsFinite(entry)))
                return false;
        }

        return true;
    }

    private void Square(Span<double> power, int size)
    {
        var product = _product.AsSpan(0, size * size);
        product.Clear();
        var largest = 0.0;
        for (var row = 0; row < size; row++)
        {
            var into = product.Slice(row * size, size);
            for (var middle = 0; middle < size; middle++)
                SpectralRadius.Add(power[row * size + middle], power.Slice(middle * size, size), into);
            foreach (var entry in into)
                largest = Math.Max(largest, entry);
        }

        product.CopyTo(power);
        Scale(power, -Math.ILogB(largest));
    }

    private void Balance(Span<double> matrix, int size)
    {
        var settled = false;
        for (var sweep = 0; sweep < Sweeps && !settled; sweep++)
        {
            settled = true;
            for (var i = 0; i < size; i++)
            {
                double into = 0, outOf = 0;
                for (var j = 0; j < size; j++)
                {
                    into += i == j ? 0 : matrix[j * size + i];
                    outOf += i == j ? 0 : matrix[i * size + j];
                }

                // The power of two that brings both sums nearest to each other, if it is not 1.
                if (!(into > 0 && outOf > 0) || (into <= 2 * outOf && outOf <= 2 * into))
                    continue;
                var half = (int)Math.Round(Math.Log2(outOf / into) / 2);
                if (half == 0 || Math.ScaleB(into, half) + Math.ScaleB(outOf, -half) >= 0.95 * (into + outOf))
                    continue;
                settled = false;
                var (wider, narrower) = (Math.ScaleB(1, half), Math.ScaleB(1, -half));
                _scale[i] *= wider;
                for (var j = 0; j < size; j++)
                {
                    matrix[j * size + i] *= wider;
                    matrix[i * size + j] *= narrower;
                }
            }
        }
    }

    // The radius lies between the smallest and the largest sum of a row.
    private static int MiddleOfRowSums(ReadOnlySpan<double> matrix, int size)
    {
        double low = double.PositiveInfinity, high = 0;
        for (var row = 0; row < size; row++)
        {
            var sum = 0.0;
            foreach (var entry in matrix.Slice(row * size, size))
                sum += entry;
            low = Math.Min(low, sum);
            high = Math.Max(high, sum);
        }

        return low > 0 ? (Math.ILogB(low) + Math.ILogB(high)) / 2 : 0;
    }

    private static void Scale(Span<double> matrix, int exponent)
    {
        if (exponent == 0)
            return;
        // In two steps, since half of the exponents that a number can have are beyond one factor.
        var (first, second) = (Math.ScaleB(1, exponent / 2), Math.ScaleB(1, exponent - exponent / 2));
        foreach (ref var entry in matrix)
            entry = entry * first * second;
    }
}
