using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Routing;

/// <summary>
/// The connections that a plan makes, whatever is muted or down: switches planned on, patches as planned, no effects and no talk circuits. Says which
/// settings decide how loud a source is at a feed by them.
/// </summary>
/// <param name="plan">The plan.</param>
/// <param name="routing">The flow as planned, with its patches plugged.</param>
/// <param name="planned">The state that it was loaded from.</param>
internal sealed class PlannedWays(ShowPlan plan, DeskRouting routing, DeskState planned)
{
    private readonly RoutingMap _map = routing.Map;
    private readonly int _postFader = plan.Profile.Texts.Intern("post-fader");
    private readonly int _postPan = plan.Profile.Texts.Intern("post-pan");

    /// <summary>Every node that the given ones reach.</summary>
    public bool[] From(IEnumerable<int> nodes) => Walk(nodes, forward: true);

    /// <summary>The settings on all ways from some nodes to some columns: switches, levels, taps, faders, trims, gains and planned memberships of DCAs. Mutes and pans are none.</summary>
    /// <param name="nodes">The source's nodes.</param>
    /// <param name="columns">The feed's columns.</param>
    public SortedSet<int> Settings(IReadOnlyList<int> nodes, IReadOnlyList<int> columns)
    {
        var found = new SortedSet<int>();
        var ahead = Walk(nodes, forward: true);
        var back = Walk(columns.Select(column => _map.Terminals[column]), forward: false);
        for (var number = 0; number < _map.Edges.Count; number++)
        {
            if (routing.Graph.SourceOf(number) is >= 0 and var from && ahead[from] && back[routing.Graph.TargetOf(number)] && IsMade(number))
                Add(found, number, from);
        }

        found.Remove(-1);
        return found;
    }

    private bool IsMade(int number)
    {
        var edge = _map.Edges[number];
        if (edge.Kind is EdgeKind.Effect or EdgeKind.Talk)
            return false;
        // A send that is planned at -inf is none.
        return (edge.On < 0 || plan.For(edge.On) is { Planned.IsOn: true })
            && (edge.Level < 0 || plan.For(edge.Level) is not { } level || !double.IsNegativeInfinity(level.High.Number));
    }

    private bool[] Walk(IEnumerable<int> starts, bool forward)
    {
        var reached = new bool[_map.Nodes.Count];
        var waiting = new Queue<int>();
        foreach (var start in starts)
        {
            reached[start] = true;
            waiting.Enqueue(start);
        }

        while (waiting.TryDequeue(out var node))
        {
            foreach (var edge in forward ? routing.Graph.AllEdgesFrom(node) : routing.Graph.EdgesInto(node))
            {
                var next = forward ? routing.Graph.TargetOf(edge) : routing.Graph.SourceOf(edge);
                if (next < 0 || reached[next] || !IsMade(edge))
                    continue;
                reached[next] = true;
                waiting.Enqueue(next);
            }
        }

        return reached;
    }

    private void Add(SortedSet<int> found, int number, int from)
    {
        var edge = _map.Edges[number];
        found.UnionWith([edge.On, edge.Level]);
        if (routing.StripAt(from) is not { } strip)
            return;
        var tap = edge.Kind == EdgeKind.Send ? edge.Tap : routing.IsDirect(number) ? strip.DirectOutTap : -1;
        found.UnionWith([tap, strip.Trim]);
        if (strip.Source >= 0)
            found.Add(routing.SocketGainOf(strip, planned));
        // One whose tap nobody plans could leave anywhere; one whose tap the profile does not map is taken after the fader.
        var isPost = tap < 0 || (plan.For(tap) is { } point && (point.Planned.TextId == _postFader || point.Planned.TextId == _postPan));
        if (isPost)
            found.Add(strip.Fader);
        foreach (var (member, _, fader) in strip.Dcas)
        {
            if ((isPost || routing.Behaviour.DcaMovesPreFader) && plan.For(member) is { Planned.IsOn: true })
                found.UnionWith([member, fader]);
        }
    }
}
