using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>Buses that feed each other in a circle.</summary>
internal sealed class CircleFlow
{
    private const int MostSteps = 20_000;

    private readonly SignalFlow _flow;
    private readonly Dictionary<int, int> _edgeOf = [];
    private readonly Dictionary<int, List<int>> _edgesOf = [];
    private readonly bool[] _onWay;
    private int _steps;

    public CircleFlow(SignalFlow flow)
    {
        _flow = flow;
        _onWay = new bool[flow.Map.Nodes.Count];
        for (var edge = 0; edge < flow.Map.Edges.Count && flow.Plan.Feeds.Count > 0; edge++)
        {
            if (SubjectOf(flow.Map.Edges[edge]) is not (>= 0 and var setting))
                continue;
            if (!_edgesOf.TryGetValue(setting, out var edges))
                _edgesOf.Add(setting, edges = []);
            edges.Add(edge);
        }
    }

    /// <summary>
    /// Every setting that could be the lowest of a circle, by id: switches that leave buses, and sources of inputs. None in a plan without
    /// feeds: nobody listens, and a desk need not be asked for all of its buses.
    /// </summary>
    public IEnumerable<int> Subjects => _edgesOf.Keys.Order();

    /// <summary>Whether a setting is the lowest of a circle in the state that was loaded last.</summary>
    public bool IsAt(int setting) => _edgeOf.ContainsKey(setting);

    /// <summary>Looks for circles again.</summary>
    public void Load()
    {
        _edgeOf.Clear();
        if (_flow.Live.Graph.Circles == 0)
            return;
        var lowest = new Dictionary<int, (int Setting, int Edge)>();
        for (var number = 0; number < _flow.Map.Edges.Count; number++)
        {
            if (!IsInside(number))
                continue;
            var part = _flow.Live.Graph.PartOf(_flow.Map.Edges[number].To);
            if (SubjectOf(_flow.Map.Edges[number]) is >= 0 and var setting && (!lowest.TryGetValue(part, out var known) || setting < known.Setting))
                lowest[part] = (setting, number);
        }

        foreach (var (setting, edge) in lowest.Values)
            _edgeOf[setting] = edge;
    }

    /// <summary>
    /// The shortest circle by way of a subject's edge; what comes back once round by all ways together, in dB, magnitudes added; and
    /// whether it builds up.
    /// </summary>
    public (List<int> Edges, double Gain, bool IsUnstable) Of(int setting)
    {
        var edges = Shortest(_edgeOf[setting]);
        var gain = Around(setting);
        var isUnstable = gain >= 1;
        foreach (var node in _flow.Live.Graph.PartNodes(_flow.Map.Edges[edges[0]].To))
        {
            foreach (var total in _flow.Live.Graph.Total(node))
                isUnstable |= double.IsPositiveInfinity(total);
        }

        return (edges, Decibels.OfFactor(gain), isUnstable);
    }

    // The circle is cut open at the subject's edges. Left and right of a stereo bus lead back to the same place and add up; two circles side
    // by side do not.
    private double Around(int setting)
    {
        var graph = _flow.Live.Graph;
        var cut = _edgesOf[setting].Where(IsInside).ToList();
        var gains = cut.ConvertAll(edge =>
        {
            _steps = 0;
            return Math.Abs(graph.GainOf(edge)) * Back(_flow.Map.Edges[edge].To, graph.SourceOf(edge), cut);
        });
        var meet = cut.TrueForAll(edge => graph.SourceOf(edge) == graph.SourceOf(cut[0])) || cut.TrueForAll(edge => _flow.Map.Edges[edge].To == _flow.Map.Edges[cut[0]].To);
        return meet ? gains.Sum() : gains.Max();
    }

    private double Back(int node, int goal, List<int> cut)
    {
        if (node == goal)
            return 1;
        if (_steps++ > MostSteps)
            return 0;
        var sum = 0.0;
        _onWay[node] = true;
        foreach (var edge in _flow.Live.Graph.EdgesFrom(node))
        {
            if (IsInside(edge) && !cut.Contains(edge) && !_onWay[_flow.Map.Edges[edge].To])
                sum += Math.Abs(_flow.Live.Graph.GainOf(edge)) * Back(_flow.Map.Edges[edge].To, goal, cut);
        }

        _onWay[node] = false;
        return sum;
    }

    /// <summary>The strips a subject's edge leads from and to, <c>group/1>group/2</c>; null for a patch that leads from no bus in the state that was loaded last.</summary>
    public string? EdgeWords(int setting)
    {
        var edge = _edgeOf.TryGetValue(setting, out var inside) ? inside : _edgesOf.TryGetValue(setting, out var edges) ? edges[0] : -1;
        return edge >= 0 && PathOf(_flow.Live.Graph.SourceOf(edge)) is { } from ? $"{from}>{PathOf(_flow.Map.Edges[edge].To)}" : null;
    }

    private string? PathOf(int node) => node >= 0 && _flow.Map.Nodes[node].Strip is >= 0 and var strip ? _flow.Plan.Profile.Strips[strip].Path : null;

    private int SubjectOf(RoutingEdge edge)
    {
        if (edge.Kind == EdgeKind.Loopback)
            return _flow.Live.StripAt(edge.To)?.Source ?? -1;
        return edge.On >= 0 && edge.Kind != EdgeKind.Talk && _flow.Live.StripAt(edge.From) is { } strip && _flow.Plan.Profile.Strips[strip.Strip].Kind != "input" ? edge.On : -1;
    }

    private bool IsInside(int edge)
    {
        var from = _flow.Live.Graph.SourceOf(edge);
        return from >= 0 && _flow.Live.Graph.GainOf(edge) != 0 && _flow.Live.Graph.OnCircle(from) && _flow.Live.Graph.PartOf(from) == _flow.Live.Graph.PartOf(_flow.Map.Edges[edge].To);
    }

    // Breadth first from where the edge ends back to where it begins.
    private List<int> Shortest(int edge)
    {
        var graph = _flow.Live.Graph;
        var goal = graph.SourceOf(edge);
        var before = new Dictionary<int, int> { [_flow.Map.Edges[edge].To] = edge };
        var waiting = new Queue<int>([_flow.Map.Edges[edge].To]);
        while (!before.ContainsKey(goal) && waiting.TryDequeue(out var node))
        {
            foreach (var next in graph.EdgesFrom(node))
            {
                if (IsInside(next) && before.TryAdd(_flow.Map.Edges[next].To, next))
                    waiting.Enqueue(_flow.Map.Edges[next].To);
            }
        }

        var circle = new List<int>();
        for (var at = before[goal]; ; at = before[graph.SourceOf(at)])
        {
            circle.Insert(0, at);
            if (at == edge)
                return circle;
        }
    }
}
