using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// What arrives by a connection the plan does not make: the first such connection on a way answers for it, and up to there the way is as
/// planned. Nothing is allocated while ways are looked at.
/// </summary>
internal sealed class ExtraWays
{
    private const int MostSteps = 20_000;

    private readonly SignalFlow _flow;
    private readonly Dictionary<int, int> _placeOf = [];
    private readonly int[] _switches;
    private readonly int[][] _edgesOf;
    private readonly OpenWays _open;
    private readonly int _firstFact;
    private readonly Dictionary<int, PlannedStrip> _stripAt = [];
    private readonly Dictionary<(int Strip, int Feed), ForbiddenPair> _forbidden = [];
    private readonly double[] _up;
    private readonly bool[] _onPath;
    private int _steps;

    public ExtraWays(SignalFlow flow)
    {
        _flow = flow;
        _up = new double[flow.Map.Nodes.Count];
        _onPath = new bool[flow.Map.Nodes.Count];
        var plan = flow.Plan;
        var numberOf = Enumerable.Range(0, plan.Feeds.Count).ToDictionary(number => plan.Feeds[number].Key, number => number, StringComparer.Ordinal);
        foreach (var pair in plan.Forbidden)
            _forbidden.TryAdd((pair.Strip.Strip.Id, numberOf[pair.Feed.Key]), pair);
        foreach (var strip in plan.Strips)
        {
            if (strip.Strip.Kind == "input" && flow.Map.NodeOf(strip.Strip.Id) is >= 0 and var node)
                _stripAt.TryAdd(node, strip);
        }

        var edgesOf = new SortedDictionary<int, List<int>>();
        // Without sources or listeners nothing can arrive where it must not.
        for (var number = 0; number < flow.Map.Edges.Count && plan.Strips.Count > 0 && plan.Feeds.Count > 0; number++)
        {
            var edge = flow.Map.Edges[number];
            // A patch from a bus that the plan does not make.
            if (edge.Kind == EdgeKind.Loopback && flow.Planned.Graph.SourceOf(number) < 0 && flow.Live.StripAt(edge.To) is { } drawing && flow.Live.MayDrawFromBus(drawing))
            {
                edgesOf.Add(drawing.Source, [number]);
                continue;
            }

            if (edge.Kind is not (EdgeKind.Assign or EdgeKind.Send or EdgeKind.Talk) || plan.For(edge.On) is { Planned.IsOn: true } || !IsLookedAt(edge.From))
                continue;
            if (!edgesOf.TryGetValue(edge.On, out var edges))
                edgesOf.Add(edge.On, edges = []);
            edges.Add(number);
        }

        _switches = [.. edgesOf.Keys];
        _edgesOf = [.. edgesOf.Values.Select(edges => edges.ToArray())];
        for (var place = 0; place < _switches.Length; place++)
            _placeOf.Add(_switches[place], place);
        _firstFact = flow.Facts.Reserve(_switches.Length);
        _open = new OpenWays(flow, _edgesOf);
    }

    /// <summary>The switches of all connections the plan does not make, and the patches by which an input could draw from a bus, by id.</summary>
    public IEnumerable<int> Switches => _switches;

    /// <summary>Their levels.</summary>
    public IEnumerable<int> Levels => _edgesOf.SelectMany(edges => edges).Where(edge => _flow.Map.Edges[edge].Kind == EdgeKind.Send && _flow.Map.Edges[edge].Level >= 0)
        .Select(edge => _flow.Map.Edges[edge].Level);

    /// <summary>The number of the fact of what arrives over a switch.</summary>
    public int FactOf(int setting) => _firstFact + _placeOf[setting];

    /// <summary>Finds the switches over which something else may arrive now.</summary>
    /// <param name="looked">What the graph has computed again.</param>
    public void Update(NodeSet looked) => _open.Update(looked, _firstFact);

    /// <summary>Something that arrives by an unplanned connection.</summary>
    /// <param name="Source">The source's node.</param>
    /// <param name="Feed">The feed's number in the plan.</param>
    /// <param name="Column">Where it arrives.</param>
    /// <param name="Edge">The connection.</param>
    /// <param name="Extra">Sum of the ways over it.</param>
    public readonly record struct Arrival(int Source, int Feed, int Column, int Edge, double Extra);

    /// <summary>Takes in what arrives over a switch; stops when the visitor says so.</summary>
    /// <param name="setting">The switch.</param>
    /// <param name="byEffects">Whether ways that come back from an effect count.</param>
    /// <param name="visitor">Returns true when it has seen enough.</param>
    /// <returns>Whether the visitor did.</returns>
    public bool Visit<T>(int setting, bool byEffects, ref T visitor)
        where T : struct, IVisitor
    {
        var graph = _flow.Live.Graph;
        foreach (var edge in _edgesOf[_placeOf[setting]])
        {
            var gain = Math.Abs(graph.GainOf(edge));
            if (gain == 0)
                continue;
            var to = graph.Total(graph.TargetOf(edge));
            Array.Clear(_up);
            _steps = 0;
            Climb(graph.SourceOf(edge), 1, byEffects);
            for (var node = 0; node < _up.Length; node++)
            {
                if (_up[node] == 0 || !IsSource(node))
                    continue;
                for (var feed = 0; feed < _flow.Plan.Feeds.Count; feed++)
                {
                    var columns = _flow.Map.ColumnsOf(feed);
                    for (var i = 0; i < columns.Count; i++)
                    {
                        if (to[columns[i]] > 0 && visitor.Take(this, new Arrival(node, feed, columns[i], edge, _up[node] * gain * to[columns[i]])))
                            return true;
                    }
                }
            }
        }

        return false;
    }

    /// <summary>Looks at what arrives.</summary>
    public interface IVisitor
    {
        /// <summary>Takes one arrival; true when enough was seen.</summary>
        bool Take(ExtraWays ways, Arrival arrival);
    }

    /// <summary>
    /// The strongest way without the unplanned connection, and the strongest over it, effects left out; null where there are not both.
    /// </summary>
    public (Way Planned, Way Extra)? Both(Arrival arrival)
    {
        var ways = new WayFinder(_flow.Live).Find(arrival.Source, [arrival.Column], new StageReader(_flow.Live, _flow.View))
            .Where(way => !way.Steps.Any(step => _flow.Map.Edges[step.Edge].Kind == EdgeKind.Effect)).ToLookup(way => way.Steps.Any(step => step.Edge == arrival.Edge));
        return ways[false].FirstOrDefault() is { } planned && ways[true].FirstOrDefault() is { } extra ? (planned, extra) : null;
    }

    /// <summary>Whether the plan forbids an arrival, in its words or because it is private, or an open microphone in the subs.</summary>
    public bool IsForbidden(Arrival arrival)
    {
        if (!_stripAt.TryGetValue(arrival.Source, out var strip))
            return _flow.Plan.Feeds[arrival.Feed].Purpose.IsPublic();
        return _forbidden.ContainsKey((strip.Strip.Id, arrival.Feed)) || (IsUnwanted(strip, _flow.Plan.Feeds[arrival.Feed].Purpose) && !IsPlanned(arrival));
    }

    // No plan need say that private words are private, and that open microphones and subwoofers do not go together.
    private static bool IsUnwanted(PlannedStrip strip, Purpose purpose) => strip.Privacy != Privacy.None ? purpose.IsPublic() : strip.OpenMic && purpose == Purpose.Subs;

    /// <summary>What the plan says against an arrival; null when only its nature does.</summary>
    public ForbiddenPair? SaidOf(Arrival arrival) => _stripAt.TryGetValue(arrival.Source, out var strip) ? _forbidden.GetValueOrDefault((strip.Strip.Id, arrival.Feed)) : null;

    /// <summary>The feed of an arrival.</summary>
    public Feed FeedOf(Arrival arrival) => _flow.Plan.Feeds[arrival.Feed];

    /// <summary>The strip of a source, or null for a talk circuit.</summary>
    public PlannedStrip? StripOf(Arrival arrival) => _stripAt.GetValueOrDefault(arrival.Source);

    /// <summary>How many times louder all ways together are than those without the unplanned connection; 1 when the source does not arrive otherwise.</summary>
    public double Rise(Arrival arrival)
    {
        var all = _flow.Live.Graph.Total(arrival.Source)[arrival.Column];
        var rest = all - arrival.Extra;
        return double.IsFinite(all) && IsPlanned(arrival) && rest > MustCarryFlow.Least * _flow.Planned.Graph.Total(arrival.Source)[arrival.Column] ? all / rest : 1;
    }

    private bool IsPlanned(Arrival arrival) => _flow.Planned.Graph.Total(arrival.Source)[arrival.Column] > 0;

    private bool IsSource(int node) => _stripAt.ContainsKey(node) || _flow.Map.Nodes[node].Kind == NodeKind.Talk;

    // Buses, planned inputs and talk circuits.
    private bool IsLookedAt(int node) => node >= 0 && (IsSource(node) || (_flow.Live.StripAt(node) is { } strip && _flow.Plan.Profile.Strips[strip.Strip].Kind != "input"));

    // Everything from which planned connections lead here, with the sum of those ways.
    private void Climb(int node, double gain, bool byEffects)
    {
        _up[node] += gain;
        if (_steps++ > MostSteps)
            return;
        _onPath[node] = true;
        foreach (var edge in _flow.Live.Graph.EdgesInto(node))
        {
            var from = _flow.Live.Graph.SourceOf(edge);
            if (from >= 0 && !_onPath[from] && (byEffects || _flow.Map.Edges[edge].Kind != EdgeKind.Effect) && _flow.Live.Graph.GainOf(edge) is not 0 and var factor && _flow.Planned.Graph.GainOf(edge) != 0)
                Climb(from, gain * Math.Abs(factor), byEffects);
        }

        _onPath[node] = false;
    }
}
