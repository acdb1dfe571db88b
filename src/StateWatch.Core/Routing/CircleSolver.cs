using System.Numerics;
using System.Runtime.InteropServices;

namespace StateWatch.Core.Routing;

/// <summary>
/// Solves a part of the graph whose nodes feed each other: x = A x + b as a whole, when everything that goes round dies away. Gauss
/// elimination with partial pivoting, always in the same order. Keeps its room between calls.
/// </summary>
internal sealed class CircleSolver
{
    private double[] _signed = [];
    private double[] _total = [];
    private double[] _power = [];
    private double[] _rows = [];
    private double[] _scratch = [];
    private int _size;
    private int _stride;

    /// <summary>Begins a part.</summary>
    /// <param name="size">How many nodes it has.</param>
    /// <param name="stride">Numbers in each of a node's three rows (signed, magnitudes, squares).</param>
    public void Begin(int size, int stride)
    {
        _size = size;
        _stride = stride;
        Clear(ref _signed, size * size);
        Clear(ref _total, size * size);
        Clear(ref _power, size * size);
        Clear(ref _rows, size * 3 * stride);
        if (_scratch.Length < 2 * size)
            _scratch = new double[2 * size];
    }

    /// <summary>What leads out of the part from one of its nodes, three rows one after the other; after <see cref="Solve"/> all that it brings.</summary>
    public Span<double> Row(int node) => _rows.AsSpan(node * 3 * _stride, 3 * _stride);

    /// <summary>Adds an edge inside the part.</summary>
    public void AddGain(int from, int to, double gain)
    {
        _signed[from * _size + to] += gain;
        _total[from * _size + to] += Math.Abs(gain);
        _power[from * _size + to] += gain * gain;
    }

    /// <summary>Solves the part, or marks every terminal it reaches as unstable.</summary>
    public void Solve()
    {
        var (_, most) = SpectralRadius.OfConnected(_total.AsSpan(0, _size * _size), _size, _scratch, edge: 1);
        if (most < 1)
        {
            // Squares die away faster: ρ(A∘A) ≤ ρ(|A|)² (Horn and Johnson, Topics in Matrix Analysis, chapter 5).
            Eliminate(_signed, 0);
            Eliminate(_total, 1);
            Eliminate(_power, 2);
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
            var total = _rows[(node * 3 + 1) * _stride + column];
            unstable |= all ? total != 0 : !double.IsFinite(total);
        }

        if (!unstable)
            return;
        for (var node = 0; node < _size; node++)
        {
            _rows[node * 3 * _stride + column] = double.NaN;
            _rows[(node * 3 + 1) * _stride + column] = _rows[(node * 3 + 2) * _stride + column] = double.PositiveInfinity;
        }
    }

    private Span<double> Row(int node, int kind) => _rows.AsSpan((node * 3 + kind) * _stride, _stride);

    private void Eliminate(double[] gains, int kind)
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
                Swap(Row(best, kind), Row(pivot, kind));
            }

            for (var row = pivot + 1; row < size; row++)
            {
                var factor = gains[row * size + pivot] / gains[pivot * size + pivot];
                if (factor == 0)
                    continue;
                for (var column = pivot; column < size; column++)
                    gains[row * size + column] -= factor * gains[pivot * size + column];
                Subtract(factor, Row(pivot, kind), Row(row, kind));
            }
        }

        for (var row = size - 1; row >= 0; row--)
        {
            var result = Row(row, kind);
            for (var known = row + 1; known < size; known++)
            {
                if (gains[row * size + known] is not 0 and var factor)
                    Subtract(factor, Row(known, kind), result);
            }

            var pivot = gains[row * size + row];
            foreach (ref var value in result)
                value /= pivot;
        }
    }

    private static void Subtract(double factor, ReadOnlySpan<double> from, Span<double> to)
    {
        var source = MemoryMarshal.Cast<double, Vector<double>>(from);
        var target = MemoryMarshal.Cast<double, Vector<double>>(to);
        for (var i = 0; i < target.Length; i++)
            target[i] -= factor * source[i];
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
}
