using StateWatch.Core.Desks;

namespace StateWatch.Core.Routing;

/// <summary>
/// Which settings the ways between a source and a feed depend on, and which of them have no fresh value: what hangs on those cannot be
/// told. A setting that lies behind something certainly shut does not matter.
/// </summary>
internal sealed class WaySettings
{
    private readonly RoutingMap _map;
    private readonly DeskRouting _routing;
    private readonly DeskState _state;
    private readonly StageReader _stages;
    private readonly int _postFader;
    private readonly int _postPan;
    private readonly int _input;
    private readonly Dictionary<int, bool> _open = [];

    /// <summary>Looks at one state of a desk.</summary>
    public WaySettings(DeskRouting routing, DeskState state, StageReader stages)
    {
        _map = routing.Map;
        _routing = routing;
        _state = state;
        _stages = stages;
        _postFader = _map.Profile.Texts.Intern("post-fader");
        _postPan = _map.Profile.Texts.Intern("post-pan");
        _input = _map.Profile.Texts.Intern("input");
    }

    /// <summary>Whether every setting on an edge and on the strip before it has a fresh value.</summary>
    public bool IsSeen(int edge) => Of(edge).All(_state.IsFresh);

    /// <summary>All settings on an edge and on the strip before it.</summary>
    public IReadOnlyCollection<int> On(int edge) => Of(edge);

    /// <summary>What was not seen of all that could lie on a way, by setting id.</summary>
    /// <param name="from">The source's nodes.</param>
    /// <param name="columns">The feed's columns.</param>
    public IReadOnlyList<int> Unseen(IReadOnlyList<int> from, IReadOnlyList<int> columns)
    {
        var unseen = new SortedSet<int>();
        var ahead = Walk(from, forward: true);
        var back = Walk([.. columns.Select(column => _map.Terminals[column])], forward: false);
        for (var edge = 0; edge < _map.Edges.Count; edge++)
        {
            if (_routing.Graph.SourceOf(edge) is >= 0 and var source && ahead[source] && back[_routing.Graph.TargetOf(edge)] && MayBeOpen(edge))
                unseen.UnionWith(Of(edge).Where(setting => !_state.IsFresh(setting)));
        }

        // Behind a patch that was not seen there may be anything.
        foreach (var output in _map.Outputs)
        {
            if (back[output.Node] && output.Source >= 0 && !_state.IsFresh(output.Source) && !IsShut(output.On))
                unseen.Add(output.Source);
        }

        foreach (var strip in _map.Strips)
        {
            var patched = strip.Nodes.Any(node => back[node]) || strip.Nodes.Any(from.Contains);
            if (strip.Source >= 0 && patched && !_state.IsFresh(strip.Source))
                unseen.Add(strip.Source);
            if (strip.DirectOut >= 0 && strip.Nodes.Any(node => ahead[node]) && !_state.IsFresh(strip.DirectOut))
                unseen.Add(strip.DirectOut);
        }

        return [.. unseen];
    }

    private bool[] Walk(IReadOnlyList<int> starts, bool forward)
    {
        var reached = new bool[_map.Nodes.Count];
        var waiting = new Queue<int>(starts);
        foreach (var start in starts)
            reached[start] = true;
        while (waiting.TryDequeue(out var node))
        {
            foreach (var edge in forward ? _routing.Graph.AllEdgesFrom(node) : _routing.Graph.EdgesInto(node))
            {
                var next = forward ? _routing.Graph.TargetOf(edge) : _routing.Graph.SourceOf(edge);
                if (reached[next] || !MayBeOpen(edge))
                    continue;
                reached[next] = true;
                waiting.Enqueue(next);
            }
        }

        return reached;
    }

    // Shut for certain is only what a fresh setting shuts; with an unseen tap nobody knows which settings act.
    private bool MayBeOpen(int edge)
    {
        if (_open.TryGetValue(edge, out var known))
            return known;
        var tap = TapOf(edge);
        var uncertain = tap >= 0 && !_state.IsFresh(tap) && (_map.Edges[edge].On < 0 || !IsShut(_map.Edges[edge].On));
        return _open[edge] = uncertain || !_stages.Of(edge).Exists(stage => stage.Stops && (stage.Setting < 0 || _state.IsFresh(stage.Setting)));
    }

    private bool IsShut(int setting) => setting >= 0 && _state.IsFresh(setting) && !_state[setting].IsOn;

    private int TapOf(int edge) => _map.Edges[edge].Kind switch
    {
        EdgeKind.Send => _map.Edges[edge].Tap,
        EdgeKind.Output or EdgeKind.DirectOut when _routing.IsDirect(edge) && _routing.StripAt(_routing.Graph.SourceOf(edge)) is { } strip => strip.DirectOutTap,
        _ => -1,
    };

    private HashSet<int> Of(int number)
    {
        var edge = _map.Edges[number];
        var found = new HashSet<int>();
        if (_routing.StripAt(_routing.Graph.SourceOf(number)) is { } strip)
            AddStrip(found, strip, TapOf(number));
        if (edge.Kind is EdgeKind.Output or EdgeKind.DirectOut)
        {
            var output = _map.Outputs[_routing.OutputAt(edge.To)];
            found.UnionWith([output.On, output.Polarity, output.Source]);
        }

        found.UnionWith([edge.On, edge.Level, edge.Side == 0 ? -1 : edge.Pan, edge.Side == 0 ? -1 : edge.PanFollow, edge.Side == 0 ? -1 : edge.Link]);
        found.Remove(-1);
        return found;
    }

    private void AddStrip(HashSet<int> found, StripStages strip, int tap)
    {
        var point = tap >= 0 && _state[tap].HasValue ? _state[tap].TextId : -1;
        found.UnionWith([tap, strip.Trim, strip.Polarity, strip.Source]);
        if (strip.Source >= 0)
            found.Add(_routing.SocketGainOf(strip, _state));
        if (point == _input)
            return;
        var post = point < 0 || point == _postFader || point == _postPan;
        if (post)
            found.Add(strip.Fader);
        if (post || _routing.Behaviour.MuteStopsPreFader)
            found.Add(strip.On);
        foreach (var (member, on, fader) in strip.Dcas)
        {
            found.Add(member);
            if (!IsShut(member))
                found.UnionWith([on, post ? fader : -1]);
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            // A group that is not active mutes nobody, whoever is in it; who is not in it does not care.
            if (!IsShut(active))
                found.Add(member);
            if (!IsShut(member))
                found.Add(active);
        }
    }
}
