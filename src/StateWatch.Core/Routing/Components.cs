namespace StateWatch.Core.Routing;

/// <summary>
/// Finds the strongly connected parts of a graph (R. Tarjan, Depth-first search and linear graph algorithms, 1972), without recursion and
/// without allocation. Parts come out so that every part stands after all parts it leads to; nodes within a part are in rising order, so
/// that nothing depends on where the search began.
/// </summary>
internal sealed class Components
{
    private readonly int[] _index;
    private readonly int[] _low;
    private readonly int[] _stack;
    private readonly int[] _callNode;
    private readonly int[] _callEdge;
    private readonly bool[] _onStack;
    private readonly int[] _nodes;
    private readonly int[] _starts;

    public Components(int nodes)
    {
        _index = new int[nodes];
        _low = new int[nodes];
        _stack = new int[nodes];
        _callNode = new int[nodes];
        _callEdge = new int[nodes];
        _onStack = new bool[nodes];
        _nodes = new int[nodes];
        _starts = new int[nodes + 1];
        PartOf = new int[nodes];
    }

    /// <summary>How many parts there are.</summary>
    public int Count { get; private set; }

    /// <summary>The part a node belongs to; -1 for nodes that were left out.</summary>
    public int[] PartOf { get; }

    /// <summary>The nodes of a part, rising.</summary>
    public ReadOnlySpan<int> Nodes(int part) => _nodes.AsSpan(_starts[part], _starts[part + 1] - _starts[part]);

    /// <summary>Finds the parts.</summary>
    /// <param name="graph">Where the edges are.</param>
    /// <param name="leftOut">Nodes that nothing leads to: they can be in no circle.</param>
    public void Find(IEdges graph, ReadOnlySpan<bool> leftOut)
    {
        Count = 0;
        Array.Clear(_index);
        PartOf.AsSpan().Fill(-1);
        int counter = 0, stacked = 0, filled = 0;
        for (var root = 0; root < _index.Length; root++)
        {
            if (!leftOut[root] && _index[root] == 0)
                Search(graph, root, ref counter, ref stacked, ref filled);
        }

        _starts[Count] = filled;
    }

    private void Search(IEdges graph, int root, ref int counter, ref int stacked, ref int filled)
    {
        var depth = 0;
        Enter(root, ref counter, ref stacked);
        _callNode[0] = root;
        _callEdge[0] = 0;
        while (depth >= 0)
        {
            var node = _callNode[depth];
            var edges = graph.EdgesFrom(node);
            if (_callEdge[depth] < edges.Length)
            {
                var to = graph.TargetOf(edges[_callEdge[depth]++]);
                if (_index[to] == 0)
                {
                    Enter(to, ref counter, ref stacked);
                    depth++;
                    _callNode[depth] = to;
                    _callEdge[depth] = 0;
                }
                else if (_onStack[to])
                {
                    _low[node] = Math.Min(_low[node], _index[to]);
                }

                continue;
            }

            if (_low[node] == _index[node])
                TakePart(node, ref stacked, ref filled);
            if (--depth >= 0)
                _low[_callNode[depth]] = Math.Min(_low[_callNode[depth]], _low[node]);
        }
    }

    private void Enter(int node, ref int counter, ref int stacked)
    {
        _index[node] = _low[node] = ++counter;
        _stack[stacked++] = node;
        _onStack[node] = true;
    }

    private void TakePart(int root, ref int stacked, ref int filled)
    {
        _starts[Count] = filled;
        int node;
        do
        {
            node = _stack[--stacked];
            _onStack[node] = false;
            PartOf[node] = Count;
            _nodes[filled++] = node;
        }
        while (node != root);
        _nodes.AsSpan(_starts[Count], filled - _starts[Count]).Sort();
        Count++;
    }
}

/// <summary>Edges of a graph by the node they leave.</summary>
internal interface IEdges
{
    /// <summary>The edges that leave a node.</summary>
    ReadOnlySpan<int> EdgesFrom(int node);

    /// <summary>Where an edge leads.</summary>
    int TargetOf(int edge);
}
