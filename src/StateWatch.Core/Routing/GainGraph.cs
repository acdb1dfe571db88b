using System.Numerics;
using System.Runtime.InteropServices;

namespace StateWatch.Core.Routing;

/// <summary>
/// Nodes that add up what their edges bring, and how much of each node arrives at each terminal: with its sign, as the sum of the
/// magnitudes of all ways, and as the sum of their squares. After a change only what the change can reach is computed again, by the same
/// operations in the same order as a fresh computation, so that both agree to the last bit. Nothing is allocated after the first circle
/// of its size.
/// </summary>
public sealed class GainGraph : IEdges
{
    private readonly int[] _from;
    private readonly int[] _to;
    private readonly double[] _gain;
    private readonly int[] _columnOf;

    // A node has three rows, one after the other: signed, magnitudes, squares.
    private readonly int _stride;
    private readonly double[] _rows;
    private readonly double[] _row;

    // Edges by the node they leave and by the node they enter; the first of those that leave are the active ones.
    private readonly int[] _outStart;
    private readonly int[] _out;
    private readonly int[] _activeCount;
    private readonly int[] _inStart;
    private readonly int[] _in;
    private readonly bool[] _leaf;
    private readonly int[] _filledIn;
    private readonly int[] _filledOut;

    private readonly Components _parts;
    private readonly CircleSolver _solver = new();
    private readonly bool[] _dirty;
    private readonly int[] _changed;
    private readonly int[] _looked;
    private bool _adjacencyStale = true;
    private bool _partsStale = true;

    /// <summary>Makes a graph in which every gain is 0.</summary>
    /// <param name="nodes">How many nodes there are.</param>
    /// <param name="edges">Edges by number; a from of -1 is an edge that is not plugged in yet.</param>
    /// <param name="terminals">The node of each column.</param>
    public GainGraph(int nodes, IReadOnlyList<(int From, int To)> edges, IReadOnlyList<int> terminals)
    {
        Nodes = nodes;
        Columns = terminals.Count;
        _from = [.. edges.Select(edge => edge.From)];
        _to = [.. edges.Select(edge => edge.To)];
        _gain = new double[edges.Count];
        _columnOf = new int[nodes];
        Array.Fill(_columnOf, -1);
        for (var column = 0; column < terminals.Count; column++)
            _columnOf[terminals[column]] = column;
        _stride = (Columns + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
        _rows = new double[nodes * 3 * _stride];
        _row = new double[3 * _stride];
        _outStart = new int[nodes + 1];
        _out = new int[edges.Count];
        _activeCount = new int[nodes];
        _inStart = new int[nodes + 1];
        _in = new int[edges.Count];
        _leaf = new bool[nodes];
        _filledIn = new int[nodes];
        _filledOut = new int[nodes];
        _parts = new Components(nodes);
        _dirty = new bool[nodes];
        _changed = new int[nodes];
        _looked = new int[nodes];
        Array.Fill(_dirty, true);
    }

    /// <summary>How many nodes there are.</summary>
    public int Nodes { get; }

    /// <summary>How many edges there are.</summary>
    public int Edges => _gain.Length;

    /// <summary>How many terminals there are.</summary>
    public int Columns { get; }

    /// <summary>How many parts of the graph lead back into themselves.</summary>
    public int Circles { get; private set; }

    /// <summary>Nodes whose row the last update changed.</summary>
    public ReadOnlySpan<int> Changed => _changed.AsSpan(0, ChangedCount);

    /// <summary>Nodes the last update computed again, whether or not their row came out the same: all from which a gain changed are among them.</summary>
    public ReadOnlySpan<int> Looked => _looked.AsSpan(0, LookedCount);

    /// <summary>Rises whenever parts are looked for anew; until then no circle opened, closed or changed its edges.</summary>
    public int PartsVersion { get; private set; }

    private int ChangedCount { get; set; }

    private int LookedCount { get; set; }

    /// <summary>Signed gain from a node to each terminal; not a number where the way leads through a circle that does not die away.</summary>
    public ReadOnlySpan<double> Signed(int node) => _rows.AsSpan(node * 3 * _stride, Columns);

    /// <summary>Sum of the magnitudes of all ways from a node to each terminal; +inf where a way leads through a circle that does not die away.</summary>
    public ReadOnlySpan<double> Total(int node) => _rows.AsSpan((node * 3 + 1) * _stride, Columns);

    /// <summary>
    /// Sum of the squared magnitudes of all single ways from a node to each terminal, once round a circle being another way than twice: what
    /// arrives of ways whose phases have nothing to do with each other. +inf where <see cref="Total"/> is.
    /// </summary>
    public ReadOnlySpan<double> Power(int node) => _rows.AsSpan((node * 3 + 2) * _stride, Columns);

    /// <summary>The gain of an edge.</summary>
    public double GainOf(int edge) => _gain[edge];

    /// <summary>The node an edge leaves, or -1 when it is not plugged in.</summary>
    public int SourceOf(int edge) => _from[edge];

    /// <inheritdoc/>
    public int TargetOf(int edge) => _to[edge];

    /// <summary>The edges that leave a node and carry something, by number.</summary>
    public ReadOnlySpan<int> EdgesFrom(int node) => _out.AsSpan(_outStart[node], _activeCount[node]);

    /// <summary>All edges that leave a node, the active ones first.</summary>
    public ReadOnlySpan<int> AllEdgesFrom(int node) => _out.AsSpan(_outStart[node], _outStart[node + 1] - _outStart[node]);

    /// <summary>All edges that may enter a node.</summary>
    public ReadOnlySpan<int> EdgesInto(int node) => _in.AsSpan(_inStart[node], _inStart[node + 1] - _inStart[node]);

    /// <summary>The part of the graph a node belongs to, or -1 for a node that nothing leads to.</summary>
    public int PartOf(int node) => _parts.PartOf[node];

    /// <summary>Whether a node lies on a circle.</summary>
    public bool OnCircle(int node) => _parts.PartOf[node] is >= 0 and var part && IsCircle(_parts.Nodes(part));

    /// <summary>The nodes of the part a node belongs to, rising.</summary>
    public ReadOnlySpan<int> PartNodes(int node) => _parts.PartOf[node] is >= 0 and var part ? _parts.Nodes(part) : [];

    /// <summary>Sets the gain of an edge.</summary>
    public void SetGain(int edge, double gain)
    {
        var old = _gain[edge];
        if (old.Equals(gain))
            return;
        _gain[edge] = gain;
        var from = _from[edge];
        if (from < 0)
            return;
        _dirty[from] = true;
        if (old == 0 != (gain == 0) && !_adjacencyStale)
        {
            Toggle(from, edge, gain != 0);
            // A node that nothing leads to cannot close or open a circle, and comes after all others anyway.
            _partsStale |= !_leaf[from];
        }
    }

    /// <summary>Plugs an edge into another node, or none (-1).</summary>
    public void Plug(int edge, int from)
    {
        if (_from[edge] == from)
            return;
        foreach (var node in (ReadOnlySpan<int>)[_from[edge], from])
        {
            if (node >= 0)
                _dirty[node] = true;
        }

        _from[edge] = from;
        _adjacencyStale = _partsStale = true;
    }

    /// <summary>Sorts edges by their nodes after plugging, so that they can be walked; <see cref="Update"/> does it by itself.</summary>
    public void Connect()
    {
        if (_adjacencyStale)
            BuildAdjacency();
    }

    /// <summary>Computes what changed since the last time.</summary>
    public void Update()
    {
        ChangedCount = LookedCount = 0;
        Connect();
        if (_partsStale)
            FindParts();
        for (var part = 0; part < _parts.Count; part++)
        {
            var nodes = _parts.Nodes(part);
            if (!AnyDirty(nodes))
                continue;
            if (IsCircle(nodes))
                SolveCircle(nodes);
            else
                Follow(nodes[0]);
        }

        // Only nodes that nothing leads to are left.
        for (var node = _dirty.AsSpan().IndexOf(true); node >= 0; node = _dirty.AsSpan().IndexOf(true))
            Follow(node);
    }

    private bool AnyDirty(ReadOnlySpan<int> nodes)
    {
        foreach (var node in nodes)
        {
            if (_dirty[node])
                return true;
        }

        return false;
    }

    private bool IsCircle(ReadOnlySpan<int> nodes)
    {
        if (nodes.Length > 1)
            return true;
        foreach (var edge in EdgesFrom(nodes[0]))
        {
            if (_to[edge] == nodes[0])
                return true;
        }

        return false;
    }

    private void Follow(int node)
    {
        Array.Clear(_row);
        Collect(node, [], -1, _row);
        Keep(node, _row);
    }

    private void SolveCircle(ReadOnlySpan<int> nodes)
    {
        _solver.Begin(nodes.Length, _stride);
        for (var i = 0; i < nodes.Length; i++)
            Collect(nodes[i], nodes, i, _solver.Row(i));
        _solver.Solve();
        for (var i = 0; i < nodes.Length; i++)
            Keep(nodes[i], _solver.Row(i));
    }

    // What a node brings to each terminal itself and by the edges that lead out of its circle; the others are left to the solver.
    private void Collect(int node, ReadOnlySpan<int> circle, int place, Span<double> row)
    {
        if (_columnOf[node] >= 0)
            row[_columnOf[node]] = row[_stride + _columnOf[node]] = row[2 * _stride + _columnOf[node]] = 1;
        foreach (var edge in EdgesFrom(node))
        {
            if (circle.Length > 0 && circle.BinarySearch(_to[edge]) is >= 0 and var inside)
                _solver.AddGain(place, inside, _gain[edge]);
            else
                AddRow(_gain[edge], _rows.AsSpan(_to[edge] * 3 * _stride, 3 * _stride), row);
        }
    }

    private static void AddRow(double gain, ReadOnlySpan<double> from, Span<double> to)
    {
        var source = MemoryMarshal.Cast<double, Vector<double>>(from);
        var target = MemoryMarshal.Cast<double, Vector<double>>(to);
        var third = target.Length / 3;
        var magnitude = Math.Abs(gain);
        // Never 0, so that what is endless stays so.
        var square = Math.Max(gain * gain, double.Epsilon);
        for (var i = 0; i < third; i++)
        {
            target[i] += gain * source[i];
            target[third + i] += magnitude * source[third + i];
            target[2 * third + i] += square * source[2 * third + i];
        }
    }

    // What did not change to the last bit changes nothing behind it.
    private void Keep(int node, ReadOnlySpan<double> row)
    {
        _dirty[node] = false;
        _looked[LookedCount++] = node;
        var kept = _rows.AsSpan(node * 3 * _stride, 3 * _stride);
        if (SameBits(kept, row))
            return;
        row.CopyTo(kept);
        _changed[ChangedCount++] = node;
        foreach (var edge in EdgesInto(node))
        {
            if (_gain[edge] != 0 && (_parts.PartOf[_from[edge]] != _parts.PartOf[node] || _parts.PartOf[node] < 0))
                _dirty[_from[edge]] = true;
        }
    }

    private static bool SameBits(ReadOnlySpan<double> left, ReadOnlySpan<double> right) =>
        MemoryMarshal.AsBytes(left).SequenceEqual(MemoryMarshal.AsBytes(right));

    private void FindParts()
    {
        MarkCircles();
        _parts.Find(this, _leaf);
        MarkCircles();
        _partsStale = false;
        PartsVersion++;
    }

    // Whoever leaves or joins a circle is computed in another way.
    private void MarkCircles()
    {
        Circles = 0;
        for (var part = 0; part < _parts.Count; part++)
        {
            var nodes = _parts.Nodes(part);
            if (!IsCircle(nodes))
                continue;
            Circles++;
            foreach (var node in nodes)
                _dirty[node] = true;
        }
    }

    private void Toggle(int node, int edge, bool active)
    {
        var start = _outStart[node];
        var edges = _out.AsSpan(start, _outStart[node + 1] - start);
        var count = _activeCount[node];
        if (active)
        {
            // It waits among those that are not active, which have no order; it moves to its place among the active ones.
            var place = count + edges[count..].IndexOf(edge);
            edges[place] = edges[count];
            var at = ~edges[..count].BinarySearch(edge);
            edges[at..count].CopyTo(edges[(at + 1)..]);
            edges[at] = edge;
            _activeCount[node] = count + 1;
        }
        else
        {
            var at = edges[..count].BinarySearch(edge);
            edges[(at + 1)..count].CopyTo(edges[at..]);
            edges[count - 1] = edge;
            _activeCount[node] = count - 1;
        }
    }

    private void BuildAdjacency()
    {
        Array.Clear(_outStart);
        Array.Clear(_inStart);
        Array.Clear(_activeCount);
        for (var edge = 0; edge < _gain.Length; edge++)
        {
            if (_from[edge] < 0)
                continue;
            _outStart[_from[edge] + 1]++;
            _inStart[_to[edge] + 1]++;
        }

        for (var node = 0; node < Nodes; node++)
        {
            _leaf[node] = _inStart[node + 1] == 0;
            _outStart[node + 1] += _outStart[node];
            _inStart[node + 1] += _inStart[node];
        }

        // Rising edge numbers, the active ones first.
        Array.Clear(_filledIn);
        Array.Clear(_filledOut);
        for (var edge = 0; edge < _gain.Length; edge++)
        {
            if (_from[edge] < 0)
                continue;
            _in[_inStart[_to[edge]] + _filledIn[_to[edge]]++] = edge;
            if (_gain[edge] != 0)
                _out[_outStart[_from[edge]] + _activeCount[_from[edge]]++] = edge;
        }

        for (var edge = 0; edge < _gain.Length; edge++)
        {
            if (_from[edge] >= 0 && _gain[edge] == 0)
                _out[_outStart[_from[edge]] + _activeCount[_from[edge]] + _filledOut[_from[edge]]++] = edge;
        }

        _adjacencyStale = false;
    }
}
