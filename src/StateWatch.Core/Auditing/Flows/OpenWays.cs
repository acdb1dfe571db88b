using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// Which connections that the plan does not make are open, and which of them a change reaches: what comes over one hangs on its own gain, on
/// what lies behind it and on the planned ways that lead to it, and every node of those is computed again when anything there changes. Allocates
/// nothing after it is made.
/// </summary>
internal sealed class OpenWays
{
    private readonly SignalFlow _flow;
    private readonly (int Edge, int Place)[][] _leaving;
    private readonly (int Edge, int Place)[] _patches;
    private readonly NodeSet[] _feeders;
    private readonly bool[] _isOpen;
    private readonly int[] _openEdges;
    private readonly int[] _open;
    private readonly int[] _positionOf;
    private int _count;

    /// <summary>Notes the connections of each switch.</summary>
    /// <param name="flow">The flow.</param>
    /// <param name="edgesOf">The edges of each switch, by its place.</param>
    public OpenWays(SignalFlow flow, int[][] edgesOf)
    {
        _flow = flow;
        var leaving = flow.Map.Nodes.Select(_ => new List<(int, int)>()).ToArray();
        for (var place = 0; place < edgesOf.Length; place++)
        {
            foreach (var edge in edgesOf[place].Where(edge => flow.Map.Edges[edge].From >= 0))
                leaving[flow.Map.Edges[edge].From].Add((edge, place));
        }

        // A patch may lead from anywhere: while it is plugged whatever changes may count.
        _patches = [.. Enumerable.Range(0, edgesOf.Length).SelectMany(place => edgesOf[place].Where(edge => flow.Map.Edges[edge].From < 0).Select(edge => (edge, place)))];

        _leaving = [.. leaving.Select(edges => edges.ToArray())];
        var into = Enumerable.Range(0, flow.Map.Edges.Count).Where(edge => flow.Planned.Graph.GainOf(edge) != 0).ToLookup(edge => flow.Map.Edges[edge].To);
        var feedersOf = new Dictionary<int, NodeSet>();
        _feeders = new NodeSet[edgesOf.Length];
        for (var place = 0; place < edgesOf.Length; place++)
        {
            _feeders[place] = new NodeSet(flow.Map.Nodes.Count);
            foreach (var from in edgesOf[place].Select(edge => flow.Map.Edges[edge].From).Where(from => from >= 0).Distinct())
            {
                if (!feedersOf.TryGetValue(from, out var feeders))
                {
                    feedersOf.Add(from, feeders = new NodeSet(flow.Map.Nodes.Count));
                    AddFeeders(feeders, from, into);
                }

                _feeders[place].Add(feeders);
            }
        }

        _isOpen = new bool[flow.Map.Edges.Count];
        _openEdges = new int[edgesOf.Length];
        _open = new int[edgesOf.Length];
        _positionOf = new int[edgesOf.Length];
    }

    /// <summary>Marks the facts of all switches that a change reaches.</summary>
    /// <param name="looked">What the graph has computed again.</param>
    /// <param name="firstFact">The fact of the first switch.</param>
    public void Update(NodeSet looked, int firstFact)
    {
        foreach (var node in _flow.Live.Graph.Looked)
        {
            foreach (var (edge, place) in _leaving[node])
            {
                var isOpen = _flow.Live.Graph.GainOf(edge) != 0;
                if (isOpen == _isOpen[edge])
                    continue;
                _isOpen[edge] = isOpen;
                Count(place, isOpen ? 1 : -1);
                _flow.Facts.Mark(firstFact + place);
            }
        }

        foreach (var (edge, place) in _patches)
        {
            var isOpen = _flow.Live.Graph.GainOf(edge) != 0;
            if (isOpen || _isOpen[edge])
                _flow.Facts.Mark(firstFact + place);
            _isOpen[edge] = isOpen;
        }

        for (var i = 0; i < _count; i++)
        {
            if (_feeders[_open[i]].Meets(looked))
                _flow.Facts.Mark(firstFact + _open[i]);
        }
    }

    // Everything from which planned ways lead here. Where a patch decides it may be anything.
    private void AddFeeders(NodeSet feeders, int node, ILookup<int, int> into)
    {
        if (!feeders.Add(node))
            return;
        foreach (var edge in into[node])
        {
            if (_flow.Map.Edges[edge].From is >= 0 and var from && _flow.Map.Edges[edge].Kind != EdgeKind.Loopback)
                AddFeeders(feeders, from, into);
            else
                feeders.Fill();
        }
    }

    private void Count(int place, int change)
    {
        _openEdges[place] += change;
        if (change > 0 && _openEdges[place] == 1)
        {
            _positionOf[place] = _count;
            _open[_count++] = place;
        }
        else if (_openEdges[place] == 0)
        {
            var last = _open[--_count];
            _open[_positionOf[place]] = last;
            _positionOf[last] = _positionOf[place];
        }
    }
}
