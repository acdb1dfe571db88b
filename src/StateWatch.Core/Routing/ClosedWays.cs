using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Routing;

/// <summary>A way that the plan makes and that does not carry anything, with what stops it.</summary>
/// <param name="Steps">Its steps in order.</param>
/// <param name="Column">The column it should end at.</param>
public sealed record ClosedWay(IReadOnlyList<WayStep> Steps, int Column)
{
    /// <summary>The stages that stop it, in order.</summary>
    public IEnumerable<Stage> Stops => Steps.SelectMany(step => step.Stages).Where(stage => stage.Stops);
}

/// <summary>
/// Finds the ways that the plan makes from a source to a feed, whatever state they are in, fewest stops first. Where an output is patched
/// otherwise than planned, the way leads on by the planned patch and counts the patch as a stop. Bounded.
/// </summary>
internal sealed class ClosedWays
{
    private const int MostWays = 32;
    private const int MostSteps = 100_000;

    private readonly ShowPlan _plan;
    private readonly RoutingMap _map;
    private readonly DeskRouting _routing;
    private readonly DeskState _state;
    private readonly StageReader _stages;
    private readonly OpeningRules _rules;
    private readonly PointTable _points;
    private readonly List<WayStep> _path = [];
    private readonly bool[] _onPath;
    private readonly List<ClosedWay> _found = [];
    private int _steps;

    /// <summary>Searches one state of a desk.</summary>
    public ClosedWays(ShowPlan plan, DeskRouting routing, DeskState state, StageReader stages)
    {
        _plan = plan;
        _map = routing.Map;
        _routing = routing;
        _state = state;
        _stages = stages;
        _rules = new OpeningRules(plan, _map);
        _points = new PointTable(_map);
        _onPath = new bool[_map.Nodes.Count];
    }

    /// <summary>All planned ways, those with the fewest stops first.</summary>
    /// <param name="from">The source's nodes.</param>
    /// <param name="columns">The feed's columns.</param>
    public IReadOnlyList<ClosedWay> Find(IReadOnlyList<int> from, IReadOnlyList<int> columns)
    {
        _found.Clear();
        _steps = 0;
        foreach (var column in columns)
        {
            var (end, last) = PlannedEnd(_map.Terminals[column]);
            var reachable = Reachable(end);
            foreach (var node in from)
                Follow(node, end, last, column, reachable);
        }

        return [.. _found.OrderBy(way => way.Stops.Count()).ThenBy(way => way.Steps.Count).Take(MostWays)];
    }

    // Where the plan plugs an output, when the desk does not.
    private (int End, WayStep? Last) PlannedEnd(int terminal)
    {
        foreach (var output in _map.Outputs)
        {
            if (output.Node != terminal || output.Source < 0 || _plan.For(output.Source) is not { } planned || planned.Allows(_state[output.Source]))
                continue;
            var (node, _) = _points.NodeOf(planned.Planned.TextId);
            if (node >= 0)
                return (node, new WayStep(output.SourceEdge, node, [new Stage(StageKind.Patch, output.Source, double.NegativeInfinity)]));
        }

        return (terminal, null);
    }

    private bool[] Reachable(int end) => NodeReach.To(_routing.Graph, end, edge => _rules.MayUse(edge, plannedOnly: true));

    private void Follow(int node, int end, WayStep? last, int column, bool[] reachable)
    {
        if (node == end)
        {
            _found.Add(new ClosedWay(last is null ? [.. _path] : [.. _path, last], column));
            return;
        }

        if (_steps++ > MostSteps || _found.Count > 8 * MostWays)
            return;
        _onPath[node] = true;
        foreach (var edge in _routing.Graph.AllEdgesFrom(node).ToArray().Order())
        {
            var to = _routing.Graph.TargetOf(edge);
            if (_onPath[to] || !reachable[to] || !_rules.MayUse(edge, plannedOnly: true))
                continue;
            _path.Add(new WayStep(edge, node, _stages.Of(edge)));
            Follow(to, end, last, column, reachable);
            _path.RemoveAt(_path.Count - 1);
        }

        _onPath[node] = false;
    }
}
