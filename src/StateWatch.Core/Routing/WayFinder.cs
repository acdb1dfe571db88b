namespace StateWatch.Core.Routing;

/// <summary>
/// Finds the single ways that make up a gain, strongest first. No way passes a node twice: what goes round a circle is told as the circle.
/// Bounded: a desk can have more ways than anybody could read.
/// </summary>
public sealed class WayFinder
{
    /// <summary>The most ways that are listed.</summary>
    public const int MostWays = 64;

    private const int MostSteps = 200_000;

    private readonly DeskRouting _routing;
    private readonly List<int> _path = [];
    private readonly bool[] _onPath;
    private readonly List<(int[] Edges, double Gain, int Column)> _found = [];
    private int _steps;

    /// <summary>Searches one state of a desk.</summary>
    public WayFinder(DeskRouting routing)
    {
        _routing = routing;
        _onPath = new bool[routing.Map.Nodes.Count];
    }

    /// <summary>Whether the last search had to stop before it had seen every way.</summary>
    public bool Capped { get; private set; }

    /// <summary>All ways from a node to one of some columns, strongest first.</summary>
    /// <param name="from">The node.</param>
    /// <param name="columns">The columns.</param>
    /// <param name="stages">Tells what stands on each edge.</param>
    public IReadOnlyList<Way> Find(int from, IReadOnlyList<int> columns, StageReader stages)
    {
        _found.Clear();
        _steps = 0;
        Capped = false;
        foreach (var column in columns)
            Follow(from, column, 1);
        return [.. _found.OrderByDescending(way => Math.Abs(way.Gain)).ThenBy(way => way.Column).Take(MostWays)
            .Select(way => new Way([.. way.Edges.Select(edge => new WayStep(edge, _routing.Graph.SourceOf(edge), stages.Of(edge)))], way.Gain, way.Column))];
    }

    private void Follow(int node, int column, double gain)
    {
        if (node == _routing.Map.Terminals[column])
        {
            _found.Add(([.. _path], gain, column));
            return;
        }

        if (_steps++ > MostSteps || _found.Count > 16 * MostWays)
        {
            Capped = true;
            return;
        }

        _onPath[node] = true;
        foreach (var edge in _routing.Graph.EdgesFrom(node))
        {
            var to = _routing.Graph.TargetOf(edge);
            // Only where something arrives in the end.
            if (_onPath[to] || _routing.Graph.Total(to)[column] == 0)
                continue;
            _path.Add(edge);
            Follow(to, column, gain * _routing.Graph.GainOf(edge));
            _path.RemoveAt(_path.Count - 1);
        }

        _onPath[node] = false;
    }
}
