using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>Buses that feed each other in a circle.</summary>
/// <param name="flow">The flow.</param>
internal sealed class CircleFlow(SignalFlow flow)
{
    private readonly Dictionary<int, int> _edgeOf = [];

    /// <summary>
    /// Every setting that could be the lowest of a circle, by id: switches that leave buses, and sources of inputs. None in a plan without
    /// feeds: nobody listens, and a desk need not be asked for all of its buses.
    /// </summary>
    public IEnumerable<int> Subjects => flow.Plan.Feeds.Count == 0 ? [] : flow.Map.Edges.Select(SubjectOf).Where(setting => setting >= 0).Distinct().Order();

    /// <summary>Whether a setting is the lowest of a circle in the state that was loaded last.</summary>
    public bool IsAt(int setting) => _edgeOf.ContainsKey(setting);

    /// <summary>Looks for circles again.</summary>
    public void Load()
    {
        _edgeOf.Clear();
        if (flow.Live.Graph.Circles == 0)
            return;
        var lowest = new Dictionary<int, (int Setting, int Edge)>();
        for (var number = 0; number < flow.Map.Edges.Count; number++)
        {
            if (!IsInside(number))
                continue;
            var part = flow.Live.Graph.PartOf(flow.Map.Edges[number].To);
            if (SubjectOf(flow.Map.Edges[number]) is >= 0 and var setting && (!lowest.TryGetValue(part, out var known) || setting < known.Setting))
                lowest[part] = (setting, number);
        }

        foreach (var (setting, edge) in lowest.Values)
            _edgeOf[setting] = edge;
    }

    /// <summary>The shortest circle by way of a subject's edge, its gain in dB, and whether it builds up.</summary>
    public (List<int> Edges, double Gain, bool IsUnstable) Of(int setting)
    {
        var edges = Shortest(_edgeOf[setting]);
        var gain = edges.Aggregate(1.0, (product, edge) => product * Math.Abs(flow.Live.Graph.GainOf(edge)));
        var isUnstable = gain >= 1;
        foreach (var node in flow.Live.Graph.PartNodes(flow.Map.Edges[edges[0]].To))
        {
            foreach (var total in flow.Live.Graph.Total(node))
                isUnstable |= double.IsPositiveInfinity(total);
        }

        return (edges, Decibels.OfFactor(gain), isUnstable);
    }

    private int SubjectOf(RoutingEdge edge)
    {
        if (edge.Kind == EdgeKind.Loopback)
            return flow.Live.StripAt(edge.To)?.Source ?? -1;
        return edge.On >= 0 && edge.Kind != EdgeKind.Talk && flow.Live.StripAt(edge.From) is { } strip && flow.Plan.Profile.Strips[strip.Strip].Kind != "input" ? edge.On : -1;
    }

    private bool IsInside(int edge)
    {
        var from = flow.Live.Graph.SourceOf(edge);
        return from >= 0 && flow.Live.Graph.GainOf(edge) != 0 && flow.Live.Graph.OnCircle(from) && flow.Live.Graph.PartOf(from) == flow.Live.Graph.PartOf(flow.Map.Edges[edge].To);
    }

    // Breadth first from where the edge ends back to where it begins.
    private List<int> Shortest(int edge)
    {
        var graph = flow.Live.Graph;
        var goal = graph.SourceOf(edge);
        var before = new Dictionary<int, int> { [flow.Map.Edges[edge].To] = edge };
        var waiting = new Queue<int>([flow.Map.Edges[edge].To]);
        while (!before.ContainsKey(goal) && waiting.TryDequeue(out var node))
        {
            foreach (var next in graph.EdgesFrom(node))
            {
                if (IsInside(next) && before.TryAdd(flow.Map.Edges[next].To, next))
                    waiting.Enqueue(flow.Map.Edges[next].To);
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
