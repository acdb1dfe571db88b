using StateWatch.Core.Routing;

namespace StateWatch.Core.Acoustics;

/// <summary>
/// How loops feed each other, seen from one side (microphones or loudspeakers) of a table of gains and a table of couplings: what leaves
/// at h, is picked up on the other side and comes back at u. A cell is a sum over the other side in a tree that only the couplings
/// decide, so that nothing depends on what was before. Nothing is allocated once made.
/// </summary>
internal sealed class LoopMatrix : IEdges
{
    private readonly int _size;
    private readonly int _others;
    private readonly double[] _gains;
    private readonly double[] _couplings;
    private readonly double[] _cells;
    private readonly CouplingList _heard;
    private readonly TermTrees _sums;
    private readonly int[] _place;
    private readonly PendingSet _pending;
    private readonly int[] _edges;
    private readonly int[] _edgeCount;
    private readonly bool[] _nobody;
    private readonly Components _parts;
    private readonly double[] _radius;
    private readonly bool[] _partDirty;
    private readonly BalancedRadius _solver;
    private bool _partsStale = true;

    /// <summary>Makes a matrix without loops.</summary>
    /// <param name="size">Rows and columns.</param>
    /// <param name="others">How many there are on the other side.</param>
    public LoopMatrix(int size, int others)
    {
        _size = size;
        _others = others;
        _gains = new double[size * others];
        _couplings = new double[size * others];
        _cells = new double[size * size];
        _heard = new CouplingList(size, others);
        _sums = new TermTrees(size * size, others);
        _place = new int[size * others];
        _pending = new PendingSet(size * size);
        _edges = new int[size * size];
        _edgeCount = new int[size];
        _nobody = new bool[size];
        _parts = new Components(size);
        _radius = new double[size];
        _partDirty = new bool[size];
        _solver = new BalancedRadius(size);
    }

    /// <summary>The largest radius of all parts: 0 without a loop, +inf when one is endless.</summary>
    public double Radius { get; private set; }

    /// <summary>The gain between own and other.</summary>
    public double GainOf(int own, int other) => _gains[own * _others + other];

    /// <summary>The coupling between own and other.</summary>
    public double CouplingOf(int own, int other) => _couplings[own * _others + other];

    /// <inheritdoc/>
    public ReadOnlySpan<int> EdgesFrom(int node) => _edges.AsSpan(node * _size, _edgeCount[node]);

    /// <inheritdoc/>
    public int TargetOf(int edge) => edge % _size;

    /// <summary>Sets a gain, not negative.</summary>
    public void SetGain(int own, int other, double gain)
    {
        ref var kept = ref _gains[own * _others + other];
        if (kept.Equals(gain))
            return;
        kept = gain;
        foreach (var hearing in _heard.OwnOf(other))
        {
            _sums.Touch(own * _size + hearing, _place[hearing * _others + other]);
            _pending.Add(own * _size + hearing);
        }
    }

    /// <summary>Sets a coupling, not negative, finite.</summary>
    public void SetCoupling(int own, int other, double coupling)
    {
        ref var kept = ref _couplings[own * _others + other];
        if (kept.Equals(coupling))
            return;
        _heard.Set(own, other, coupling != 0);
        kept = coupling;
        var place = 0;
        foreach (var heard in _heard.OthersOf(own))
            _place[own * _others + heard] = place++;
        for (var row = 0; row < _size; row++)
        {
            _sums.TouchAll(row * _size + own);
            _pending.Add(row * _size + own);
        }
    }

    /// <summary>Computes what changed.</summary>
    public void Update()
    {
        foreach (var cell in _pending.Take())
            UpdateCell(cell);
        if (_partsStale)
            FindParts();
        Radius = 0;
        for (var part = 0; part < _parts.Count; part++)
        {
            if (_partDirty[part])
                _radius[part] = _solver.Of(_cells, _size, _parts.Nodes(part));
            _partDirty[part] = false;
            Radius = Math.Max(Radius, _radius[part]);
        }
    }

    /// <summary>
    /// The part with the largest radius: its rows, and for each of them the weight by which it shares in the radius as what comes back
    /// (left eigenvector) and as what leaves (right eigenvector).
    /// </summary>
    public ReadOnlySpan<int> Loudest(Span<double> returning, Span<double> leaving)
    {
        for (var part = 0; part < _parts.Count; part++)
        {
            if (!_radius[part].Equals(Radius))
                continue;
            var rows = _parts.Nodes(part);
            _solver.Of(_cells, _size, rows);
            for (var i = 0; i < rows.Length; i++)
                returning[i] = _solver.VectorAt(i);
            _solver.Of(_cells, _size, rows, turned: true);
            for (var i = 0; i < rows.Length; i++)
                leaving[i] = _solver.VectorAt(i);
            return rows;
        }

        return [];
    }

    private void UpdateCell(int cell)
    {
        var (row, column) = (cell / _size, cell % _size);
        var others = _heard.OthersOf(column);
        var sum = _sums.Update(cell, others.Length, new Terms(_gains.AsSpan(row * _others, _others), _couplings.AsSpan(column * _others, _others), others));
        var old = _cells[cell];
        if (old.Equals(sum))
            return;
        _cells[cell] = sum;
        _partsStale |= old == 0 != (sum == 0);
        if (!_partsStale && _parts.PartOf[row] == _parts.PartOf[column])
            _partDirty[_parts.PartOf[row]] = true;
    }

    private void FindParts()
    {
        for (var row = 0; row < _size; row++)
        {
            var count = 0;
            for (var column = 0; column < _size; column++)
            {
                if (_cells[row * _size + column] != 0)
                    _edges[row * _size + count++] = row * _size + column;
            }

            _edgeCount[row] = count;
        }

        _parts.Find(this, _nobody);
        _partDirty.AsSpan(0, _parts.Count).Fill(true);
        _partsStale = false;
    }

    // Couplings are finite, so that no gain stays none.
    private readonly ref struct Terms(ReadOnlySpan<double> gains, ReadOnlySpan<double> couplings, ReadOnlySpan<int> others) : TermTrees.ITerms
    {
        private readonly ReadOnlySpan<double> _gains = gains;
        private readonly ReadOnlySpan<double> _couplings = couplings;
        private readonly ReadOnlySpan<int> _others = others;

        public double this[int term] => _gains[_others[term]] * _couplings[_others[term]];
    }
}
