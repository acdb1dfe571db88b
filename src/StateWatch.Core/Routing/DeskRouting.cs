using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// The live signal flow of one desk: what every strip does at every feed. Tell it which settings changed, then update; only what a change
/// reaches is computed, and nothing is allocated.
/// </summary>
public sealed class DeskRouting
{
    private readonly LevelFactors _levels;
    private readonly PointTable _points;
    private readonly StripGains _gains;
    private readonly DependencyIndex _depends;
    private readonly int[] _stripOfNode;
    private readonly int[] _walk;
    private readonly bool[] _plugDirect;
    private readonly PendingSet _strips;
    private readonly PendingSet _edges;
    private readonly int[] _directFrom;
    private readonly bool _cutsEffects;
    private bool _patchesDirty;

    /// <summary>Makes the signal flow of a desk; call <see cref="Load"/> before anything is asked.</summary>
    /// <param name="map">What sits where.</param>
    /// <param name="behaviour">What the desk does that no setting tells.</param>
    /// <param name="cutsEffects">Whether ways that come back from an effect are left out.</param>
    public DeskRouting(RoutingMap map, DeskBehaviour behaviour, bool cutsEffects = false)
    {
        _cutsEffects = cutsEffects;
        Map = map;
        Behaviour = behaviour;
        _levels = map.Levels;
        _points = map.Points;
        _gains = new StripGains(map, behaviour, _levels, _points);
        _depends = map.Depends;
        _stripOfNode = new int[map.Nodes.Count];
        Array.Fill(_stripOfNode, -1);
        for (var strip = 0; strip < map.Strips.Count; strip++)
        {
            foreach (var node in map.Strips[strip].Nodes)
                _stripOfNode[node] = strip;
        }

        _walk = new int[map.Edges.Count];
        _plugDirect = new bool[map.Edges.Count];
        _strips = new PendingSet(map.Strips.Count);
        _edges = new PendingSet(map.Edges.Count);
        _directFrom = new int[map.Outputs.Count];
        Graph = new GainGraph(map.Nodes.Count, [.. map.Edges.Select(edge => (edge.From, edge.To))], map.Terminals);
    }

    /// <summary>What sits where.</summary>
    public RoutingMap Map { get; }

    /// <summary>What the desk does that no setting tells.</summary>
    public DeskBehaviour Behaviour { get; }

    /// <summary>The gains, by node and column.</summary>
    public GainGraph Graph { get; }

    /// <summary>Every setting that the signal flow depends on.</summary>
    public IReadOnlyList<int> Inputs => _depends.Settings;

    /// <summary>Which strips and edges a setting decides.</summary>
    internal DependencyIndex Depends => _depends;

    /// <summary>Computes everything from a state.</summary>
    public void Load(DeskState state)
    {
        _patchesDirty = true;
        for (var strip = 0; strip < Map.Strips.Count; strip++)
            _strips.Add(strip);
        for (var edge = 0; edge < Map.Edges.Count; edge++)
            _edges.Add(edge);
        Update(state);
    }

    /// <summary>Notes that a setting changed.</summary>
    public void Touch(int setting)
    {
        foreach (var target in _depends.StripsOf(setting))
            _strips.Add(target);
        foreach (var target in _depends.EdgesOf(setting))
            _edges.Add(target);
        _patchesDirty |= _depends.IsPatch(setting);
    }

    /// <summary>Computes what the changes reach.</summary>
    public void Update(DeskState state)
    {
        if (_patchesDirty)
            Plug(state);
        Graph.Connect();
        foreach (var strip in _strips.Take())
            UpdateStrip(strip, state);
        foreach (var edge in _edges.Take())
            Graph.SetGain(edge, GainOf(edge, state));
        Graph.Update();
    }

    /// <summary>The strip of a node, or null when it is none.</summary>
    internal StripStages? StripAt(int node) => node >= 0 && _stripOfNode[node] is >= 0 and var strip ? Map.Strips[strip] : null;

    /// <summary>The strip of a node, as index among the strips; -1 when it is none.</summary>
    internal int StripNumberOf(int node) => node >= 0 ? _stripOfNode[node] : -1;

    /// <summary>The output of a node, as index among the outputs.</summary>
    internal int OutputAt(int node) => _depends.OutputOfNode(node);

    /// <summary>Whether a strip takes its signal from another strip in a state.</summary>
    internal bool IsFedByStrip(StripStages strip, DeskState state) => state[strip.Source].HasValue && _points.NodeOf(state[strip.Source].TextId).Node >= 0;

    /// <summary>Whether an edge into an output is taken at the direct-out tap.</summary>
    internal bool IsDirect(int edge) => _plugDirect[edge];

    /// <summary>Whether the desk can patch a bus into a strip.</summary>
    internal bool MayDrawFromBus(StripStages strip) =>
        strip.Source >= 0 && Map.Profile.Settings[strip.Source].Codec.Words.Any(word => _points.NodeOf(Map.Profile.Texts.Intern(word)).Node >= 0);

    /// <summary>The gain setting of the socket a strip draws from, or -1.</summary>
    internal int SocketGainOf(StripStages strip, DeskState state) => state[strip.Source].HasValue ? _points.GainOf(state[strip.Source].TextId) : -1;

    /// <summary>The share of left or right that an edge carries.</summary>
    internal double ShareOf(int edge, DeskState state) => PanFactor(Map.Edges[edge], state);

    private void UpdateStrip(int strip, DeskState state)
    {
        var (changed, toggled) = _gains.Update(strip, state);
        if (!changed)
            return;
        foreach (var node in Map.Strips[strip].Nodes)
        {
            // Setting a gain may reorder what is walked.
            var edges = toggled ? Graph.AllEdgesFrom(node) : Graph.EdgesFrom(node);
            edges.CopyTo(_walk);
            foreach (var edge in _walk.AsSpan(0, edges.Length))
                Graph.SetGain(edge, GainOf(edge, state));
        }
    }

    private double GainOf(int number, DeskState state)
    {
        var edge = Map.Edges[number];
        var from = Graph.SourceOf(number);
        if (from < 0)
            return 0;
        var strip = _stripOfNode[from];
        switch (edge.Kind)
        {
            case EdgeKind.Assign:
                return state[edge.On].IsOn ? _gains.Post(strip) * PanFactor(edge, state) : 0;
            case EdgeKind.Send:
                return state[edge.On].IsOn ? _gains.At(strip, edge.Tap, state) * _levels.Of(edge.Level, edge.Level < 0 ? default : state[edge.Level]) * PanFactor(edge, state) : 0;
            case EdgeKind.Talk:
                return state[edge.On].IsOn && state[edge.Level].IsOn ? 1 : 0;
            case EdgeKind.Output or EdgeKind.DirectOut:
                return OutputFactor(edge.To, state) * (_plugDirect[number] ? _gains.At(strip, Map.Strips[strip].DirectOutTap, state) : _gains.Post(strip));
            case EdgeKind.Effect when _cutsEffects:
                return 0;
            default:
                return _gains.Post(strip);
        }
    }

    private double OutputFactor(int node, DeskState state)
    {
        var output = Map.Outputs[_depends.OutputOfNode(node)];
        if (output.On >= 0 && !state[output.On].IsOn)
            return 0;
        return output.Polarity >= 0 && state[output.Polarity].IsOn ? -1 : 1;
    }

    private double PanFactor(RoutingEdge edge, DeskState state)
    {
        var leg = Map.Nodes[edge.From].Leg;
        if (edge.Side != 0 && leg != 0)
            return edge.Link >= 0 && state[edge.Link].IsOn ? leg == edge.Side ? 1 : 0 : Behaviour.MonoSum;
        if (edge.Side == 0 || edge.Pan < 0 || (edge.Link >= 0 && !state[edge.Link].IsOn) || (edge.PanFollow >= 0 && !state[edge.PanFollow].IsOn))
            return 1;
        var pan = state[edge.Pan];
        var position = (pan.Number / (pan.Unit == Unit.Percent ? 100 : 1) + 1) / 2;
        var (left, right) = Behaviour.PanLaw.At(position);
        return edge.Side == 1 ? left : right;
    }

    // Patches are few and seldom move: all are looked at again.
    private void Plug(DeskState state)
    {
        Array.Fill(_directFrom, -1);
        for (var strip = 0; strip < Map.Strips.Count; strip++)
        {
            var stages = Map.Strips[strip];
            if (stages.DirectOut >= 0 && state[stages.DirectOut].HasValue && _points.OutputOf(state[stages.DirectOut].TextId) is >= 0 and var output && _directFrom[output] < 0)
                _directFrom[output] = stages.Nodes[0];
            if (stages.Loopback >= 0)
                Plug(stages.Loopback, state[stages.Source].HasValue ? _points.NodeOf(state[stages.Source].TextId) : (-1, false));
        }

        for (var i = 0; i < Map.Outputs.Count; i++)
        {
            var output = Map.Outputs[i];
            Plug(output.SourceEdge, output.Source >= 0 && state[output.Source].HasValue ? _points.NodeOf(state[output.Source].TextId) : (-1, false));
            Plug(output.DirectEdge, (_directFrom[i], true));
        }

        _patchesDirty = false;
    }

    private void Plug(int edge, (int Node, bool Direct) point)
    {
        Graph.Plug(edge, point.Node);
        _plugDirect[edge] = point.Direct;
        _edges.Add(edge);
    }
}
