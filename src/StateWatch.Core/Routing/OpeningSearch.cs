using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// Finds the smallest change that makes a source arrive at a feed: fewest settings, then fewest other pairs opened, then nearest to the
/// plan, then lowest settings. Closed switches that several strips of a way share (a DCA, a mute group) are paid once, which makes the
/// problem hard in general: the search is by growing numbers of changes with a cap, and says when the cap was met.
/// </summary>
public sealed class OpeningSearch
{
    private const int MostChanges = 12;
    private const int MostSteps = 400_000;
    private const int MostCandidates = 64;

    private readonly RoutingMap _map;
    private readonly DeskRouting _routing;
    private readonly DeskState _state;
    private readonly OpeningRules _rules;
    private readonly StageReader _stages;
    private readonly Dictionary<int, int[]?> _closed = [];
    private readonly Dictionary<int, SettingValue> _values = [];
    private readonly List<int[]> _candidates = [];
    private readonly HashSet<int> _paid = [];
    private readonly bool[] _onPath;
    private int _steps;

    /// <summary>Searches one state of a desk.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="routing">The signal flow of the state.</param>
    /// <param name="state">The state; it is not changed.</param>
    public OpeningSearch(ShowPlan plan, DeskRouting routing, DeskState state)
    {
        _map = routing.Map;
        _routing = routing;
        _state = state;
        _rules = new OpeningRules(plan, _map);
        _stages = new StageReader(routing, state);
        _onPath = new bool[_map.Nodes.Count];
    }

    /// <summary>The smallest change, or null when none is allowed that opens a way.</summary>
    /// <param name="from">The source's node.</param>
    /// <param name="columns">The feed's columns; one of them must carry it afterwards.</param>
    public Opening? Find(int from, IReadOnlyList<int> columns)
    {
        foreach (var plannedOnly in (ReadOnlySpan<bool>)[true, false])
        {
            _closed.Clear();
            for (var most = 0; most <= MostChanges; most++)
            {
                _candidates.Clear();
                _steps = 0;
                foreach (var column in columns)
                    Follow(from, _map.Terminals[column], most, plannedOnly, Reachable(_map.Terminals[column], plannedOnly));
                if (Best(from, columns) is { } best)
                    return best;
                if (_steps > MostSteps)
                    break;
            }
        }

        return null;
    }

    // What may be walked from, backwards from the terminal, at any price.
    private bool[] Reachable(int terminal, bool plannedOnly) => NodeReach.To(_routing.Graph, terminal, edge => _rules.MayUse(edge, plannedOnly) && Closed(edge) is not null);

    private void Follow(int node, int terminal, int most, bool plannedOnly, bool[] reachable)
    {
        if (node == terminal)
        {
            var changes = _paid.Order().ToArray();
            if (changes.Length == most && !_candidates.Exists(other => other.AsSpan().SequenceEqual(changes)))
                _candidates.Add(changes);
            return;
        }

        if (_steps++ > MostSteps || _candidates.Count >= MostCandidates)
            return;
        _onPath[node] = true;
        foreach (var edge in _routing.Graph.AllEdgesFrom(node).ToArray().Order())
        {
            var to = _routing.Graph.TargetOf(edge);
            if (_onPath[to] || !reachable[to] || !_rules.MayUse(edge, plannedOnly) || Closed(edge) is not { } closed)
                continue;
            var added = closed.Where(_paid.Add).ToArray();
            if (_paid.Count <= most)
                Follow(to, terminal, most, plannedOnly, reachable);
            _paid.ExceptWith(added);
        }

        _onPath[node] = false;
    }

    // The settings to change so that an edge and the strip before it are open; null when one of them must not be touched.
    private int[]? Closed(int edge)
    {
        if (_closed.TryGetValue(edge, out var known))
            return known;
        var settings = new List<int>();
        foreach (var stage in _stages.Of(edge))
        {
            if (!stage.Stops)
                continue;
            if (_rules.OpenValue(stage) is not { } value)
            {
                _closed[edge] = null;
                return null;
            }

            _values[stage.Setting] = value;
            settings.Add(stage.Setting);
        }

        return _closed[edge] = [.. settings.Distinct()];
    }

    private Opening? Best(int from, IReadOnlyList<int> columns)
    {
        Opening? best = null;
        var bestDeviation = 0;
        // Of equals the lowest settings, wherever the search began.
        _candidates.Sort((a, b) => a.AsSpan().SequenceCompareTo(b));
        foreach (var settings in _candidates)
        {
            var opened = CountOpened(settings, from, columns);
            // Two ways of opposed polarity may open and cancel each other: then nothing is heard after all.
            if (opened < 0)
                continue;
            var deviation = settings.Sum(setting => _rules.Deviation(setting, _values[setting]));
            if (best is not null && (opened, deviation).CompareTo((best.OpensBesides, bestDeviation)) >= 0)
                continue;
            best = new Opening([.. settings.Select(setting => (setting, _values[setting]))], opened, _steps <= MostSteps && _candidates.Count < MostCandidates);
            bestDeviation = deviation;
        }

        return best;
    }

    // Applies the changes to a copy; -1 when the source still does not arrive.
    private int CountOpened(int[] settings, int from, IReadOnlyList<int> columns)
    {
        var copy = new DeskState(_map.Profile);
        for (var setting = 0; setting < copy.Count; setting++)
        {
            if (_state.IsFresh(setting))
                copy.Apply(setting, _state[setting]);
        }

        foreach (var setting in settings)
            copy.Apply(setting, _values[setting]);
        var after = new DeskRouting(_map, _routing.Behaviour);
        after.Load(copy);
        if (!columns.Any(column => Math.Abs(after.Graph.Signed(from)[column]) > 1e-9 * after.Graph.Total(from)[column]))
            return -1;
        var opened = 0;
        foreach (var strip in _map.Strips)
        {
            foreach (var node in strip.Nodes)
            {
                for (var column = 0; column < _map.Terminals.Count; column++)
                {
                    if (_routing.Graph.Total(node)[column] == 0 && after.Graph.Total(node)[column] != 0 && (node != from || !columns.Contains(column)) && IsSource(node))
                        opened++;
                }
            }
        }

        return opened;
    }

    // Pairs are counted for what people plug in, not for every bus on the way.
    private bool IsSource(int node) => _map.Profile.Strips[_map.Nodes[node].Strip].Kind == "input";
}
