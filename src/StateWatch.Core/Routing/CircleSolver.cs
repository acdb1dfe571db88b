namespace StateWatch.Core.Routing;

/// <summary>
/// Solves a part of the graph whose nodes feed each other: x = A x + b as a whole, when everything that goes round dies away. Gauss
/// elimination with partial pivoting, always in the same order. Keeps its room between calls.
/// </summary>
internal sealed class CircleSolver
{
    private double[] _signed = [];
    private double[] _total = [];
    private double[] _rows = [];
    private double[] _rowTotals = [];
    private double[] _scratch = [];
    private int _size;
    private int _stride;

    /// <summary>Begins a part.</summary>
    /// <param name="size">How many nodes it has.</param>
    /// <param name="stride">Numbers in a row.</param>
    public void Begin(int size, int stride)
    {
        _size = size;
        _stride = stride;
        Clear(ref _signed, size * size);
        Clear(ref _total, size * size);
        Clear(ref _rows, size * stride);
        Clear(ref _rowTotals, size * stride);
        if (_scratch.Length < 2 * size)
            _scratch = new double[2 * size];
    }

    /// <summary>What leads out of the part from one of its nodes; after <see cref="Solve"/> the node's whole row.</summary>
    public RowPair Rows(int node) => new(_rows.AsSpan(node * _stride, _stride), _rowTotals.AsSpan(node * _stride, _stride));

    /// <summary>Adds an edge inside the part.</summary>
    public void AddGain(int from, int to, double gain)
    {
        _signed[from * _size + to] += gain;
        _total[from * _size + to] += Math.Abs(gain);
    }

    /// <summary>Solves the part, or marks every terminal it reaches as unstable.</summary>
    public void Solve()
    {
        var (_, most) = SpectralRadius.OfConnected(_total.AsSpan(0, _size * _size), _size, _scratch, edge: 1);
        if (most < 1)
        {
            Eliminate(_signed, _rows);
            Eliminate(_total, _rowTotals);
        }

        for (var column = 0; column < _stride; column++)
            MarkUnstable(column, all: !(most < 1));
    }

    // Every node of the part reaches every other: what is unstable for one is so for all.
    private void MarkUnstable(int column, bool all)
    {
        var unstable = false;
        for (var node = 0; node < _size; node++)
        {
            var total = _rowTotals[node * _stride + column];
            unstable |= all ? total != 0 : !double.IsFinite(total);
        }

        if (!unstable)
            return;
        for (var node = 0; node < _size; node++)
        {
            _rows[node * _stride + column] = double.NaN;
            _rowTotals[node * _stride + column] = double.PositiveInfinity;
        }
    }

    private void Eliminate(double[] gains, double[] rows)
    {
        var size = _size;
        for (var i = 0; i < size * size; i++)
            gains[i] = (i / size == i % size ? 1 : 0) - gains[i];
        for (var pivot = 0; pivot < size; pivot++)
        {
            var best = pivot;
            for (var row = pivot + 1; row < size; row++)
            {
                if (Math.Abs(gains[row * size + pivot]) > Math.Abs(gains[best * size + pivot]))
                    best = row;
            }

            if (best != pivot)
            {
                Swap(gains.AsSpan(best * size, size), gains.AsSpan(pivot * size, size));
                Swap(rows.AsSpan(best * _stride, _stride), rows.AsSpan(pivot * _stride, _stride));
            }

            for (var row = pivot + 1; row < size; row++)
            {
                var factor = gains[row * size + pivot] / gains[pivot * size + pivot];
                if (factor == 0)
                    continue;
                for (var column = pivot; column < size; column++)
                    gains[row * size + column] -= factor * gains[pivot * size + column];
                for (var column = 0; column < _stride; column++)
                    rows[row * _stride + column] -= factor * rows[pivot * _stride + column];
            }
        }

        for (var row = size - 1; row >= 0; row--)
        {
            for (var column = 0; column < _stride; column++)
            {
                var sum = rows[row * _stride + column];
                for (var known = row + 1; known < size; known++)
                    sum -= gains[row * size + known] * rows[known * _stride + column];
                rows[row * _stride + column] = sum / gains[row * size + row];
            }
        }
    }

    private static void Swap(Span<double> left, Span<double> right)
    {
        for (var i = 0; i < left.Length; i++)
            (left[i], right[i]) = (right[i], left[i]);
    }

    private static void Clear(ref double[] room, int length)
    {
        if (room.Length < length)
            room = new double[length];
        Array.Clear(room, 0, length);
    }

    public readonly ref struct RowPair(Span<double> signed, Span<double> total)
    {
        public readonly Span<double> Signed = signed;
        public readonly Span<double> Total = total;

        public void Deconstruct(out Span<double> signed, out Span<double> total)
        {
            signed = Signed;
            total = Total;
        }
    }
}
