using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>Buses that feed each other in a circle. Looked for only when a switch or patch may have opened or closed one.</summary>
internal sealed class CircleFlow
{
    private const int MostSteps = 20_000;

    private readonly SignalFlow _flow;
    private readonly Dictionary<int, int> _placeOf = [];
    private readonly int[] _subjects;
    private readonly int[] _subjectOf;
    private readonly int[][] _edgesOf;
    private readonly int[] _edge;
    private readonly List<int>?[] _explained;
    private readonly int _firstFact;
    private readonly List<int> _found = [];
    private readonly List<int> _circle = [];
    private readonly int[] _lowest;
    private readonly int[] _before;
    private readonly int[] _waiting;
    private readonly bool[] _onWay;
    private int _steps;
    private int _version = -1;

    public CircleFlow(SignalFlow flow)
    {
        _flow = flow;
        var edgesOf = new SortedDictionary<int, List<int>>();
        _subjectOf = new int[flow.Map.Edges.Count];
        for (var edge = 0; edge < _subjectOf.Length; edge++)
        {
            _subjectOf[edge] = flow.Plan.Feeds.Count > 0 ? SubjectOf(flow.Map.Edges[edge]) : -1;
            if (_subjectOf[edge] < 0)
                continue;
            if (!edgesOf.TryGetValue(_subjectOf[edge], out var edges))
                edgesOf.Add(_subjectOf[edge], edges = []);
            edges.Add(edge);
        }

        _subjects = [.. edgesOf.Keys];
        _edgesOf = [.. edgesOf.Values.Select(edges => edges.ToArray())];
        for (var place = 0; place < _subjects.Length; place++)
            _placeOf.Add(_subjects[place], place);
        _edge = new int[_subjects.Length];
        Array.Fill(_edge, -1);
        _explained = new List<int>?[_subjects.Length];
        _firstFact = flow.Facts.Reserve(_subjects.Length);
        _lowest = new int[flow.Map.Nodes.Count];
        _before = new int[flow.Map.Nodes.Count];
        _waiting = new int[flow.Map.Nodes.Count];
        _onWay = new bool[flow.Map.Nodes.Count];
    }

    /// <summary>
    /// Every setting that could be the lowest of a circle, by id: switches that leave buses, and sources of inputs. None in a plan without
    /// feeds: nobody listens, and a desk need not be asked for all of its buses.
    /// </summary>
    public IEnumerable<int> Subjects => _subjects;

    /// <summary>The number of the fact that a subject is the lowest of a circle, and of which.</summary>
    public int FactOf(int setting) => _firstFact + _placeOf[setting];

    /// <summary>Whether a setting is the lowest of a circle in the state that was looked at last.</summary>
    public bool IsAt(int setting) => _edge[_placeOf[setting]] >= 0;

    /// <summary>The switches and patches on the shortest circle by way of a subject's edge, and the mutes of inputs that stand open in the middle of it.</summary>
    public List<int> SettingsOf(int setting) => _explained[_placeOf[setting]]!;

    /// <summary>Looks for circles again, if there can be others.</summary>
    public void Update()
    {
        var graph = _flow.Live.Graph;
        if (graph.PartsVersion == _version)
            return;
        _version = graph.PartsVersion;
        foreach (var place in _found)
        {
            _edge[place] = -1;
            _flow.Facts.Mark(_firstFact + place);
        }

        _found.Clear();
        if (graph.Circles == 0 || _subjects.Length == 0)
            return;
        FindLowest();
        foreach (var edge in _lowest)
        {
            if (edge >= 0)
                Keep(edge);
        }
    }

    /// <summary>
    /// The shortest circle by way of a subject's edge; what comes back once round by all ways together, in dB, magnitudes added; and
    /// whether it builds up.
    /// </summary>
    public (List<int> Edges, double Gain, bool IsUnstable) Of(int setting)
    {
        FindShortest(_edge[_placeOf[setting]]);
        List<int> edges = [.. _circle];
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
        var cut = _edgesOf[_placeOf[setting]].Where(IsInside).ToList();
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

    /// <summary>The strips a subject's edge leads from and to, <c>group/1>group/2</c>; null for a patch that leads from no bus in the state that was looked at last.</summary>
    public string? EdgeWords(int setting)
    {
        var place = _placeOf[setting];
        var edge = _edge[place] >= 0 ? _edge[place] : _edgesOf[place][0];
        return PathOf(_flow.Live.Graph.SourceOf(edge)) is { } from ? $"{from}>{PathOf(_flow.Map.Edges[edge].To)}" : null;
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

    // The edge with the lowest setting, by part.
    private void FindLowest()
    {
        Array.Fill(_lowest, -1);
        for (var edge = 0; edge < _subjectOf.Length; edge++)
        {
            if (_subjectOf[edge] < 0 || !IsInside(edge))
                continue;
            ref var lowest = ref _lowest[_flow.Live.Graph.PartOf(_flow.Map.Edges[edge].To)];
            if (lowest < 0 || _subjectOf[edge] < _subjectOf[lowest])
                lowest = edge;
        }
    }

    private void Keep(int edge)
    {
        var place = _placeOf[_subjectOf[edge]];
        // Left and right legs can be circles of their own by the same switch.
        if (_edge[place] >= 0 && _edge[place] < edge)
            return;
        _edge[place] = edge;
        _found.Add(place);
        _flow.Facts.Mark(_firstFact + place);
        FindShortest(edge);
        var explained = _explained[place] ??= [];
        explained.Clear();
        foreach (var one in _circle)
        {
            var (kind, on) = (_flow.Map.Edges[one].Kind, _flow.Map.Edges[one].On);
            if (kind == EdgeKind.Loopback && _flow.Live.StripAt(_flow.Map.Edges[one].To) is { } strip)
            {
                explained.Add(strip.Source);
                on = strip.On;
            }

            if (on >= 0)
                explained.Add(on);
        }
    }

    // Breadth first from where the edge ends back to where it begins.
    private void FindShortest(int edge)
    {
        var graph = _flow.Live.Graph;
        var goal = graph.SourceOf(edge);
        Array.Fill(_before, -1);
        var (next, end) = (0, 0);
        Reach(edge, ref end);
        while (_before[goal] < 0 && next < end)
        {
            foreach (var onward in graph.EdgesFrom(_waiting[next++]))
            {
                if (IsInside(onward))
                    Reach(onward, ref end);
            }
        }

        _circle.Clear();
        for (var at = _before[goal]; ; at = _before[graph.SourceOf(at)])
        {
            _circle.Insert(0, at);
            if (at == edge)
                return;
        }
    }

    private void Reach(int edge, ref int end)
    {
        var node = _flow.Map.Edges[edge].To;
        if (_before[node] >= 0)
            return;
        _before[node] = edge;
        _waiting[end++] = node;
    }
}
