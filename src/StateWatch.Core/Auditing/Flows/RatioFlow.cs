using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>The plan's ratios, as planned and live, with every source's own strip open at 0 dB.</summary>
internal sealed class RatioFlow
{
    /// <summary>Finds the ways of all ratios.</summary>
    /// <param name="flow">The flow as planned.</param>
    /// <param name="live">The live flow; the planned one where only the plan's own numbers are asked for.</param>
    public RatioFlow(PlannedFlow flow, DeskRouting live)
    {
        var numberOf = Enumerable.Range(0, flow.Plan.Feeds.Count).ToDictionary(number => flow.Plan.Feeds[number].Key, number => number, StringComparer.Ordinal);
        All = [.. flow.Plan.Ratios.Select(ratio => new FlowRatio(flow, live, ratio, numberOf))];
    }

    /// <summary>All of them, in the order of the plan.</summary>
    public IReadOnlyList<FlowRatio> All { get; }

    /// <summary>What the state that was loaded last makes of each.</summary>
    /// <param name="state">That state: what of it was not seen cannot be told.</param>
    public IReadOnlyList<RatioReading> Read(DeskState state) => [.. All.Select(ratio => ratio.Read(state))];
}

/// <summary>One ratio of a plan.</summary>
internal sealed class FlowRatio
{
    // A rounding error must not make 1.5 dB more than 1.5 dB.
    private const double Slack = 1e-6;

    private readonly PlannedFlow _flow;
    private readonly DeskRouting _live;
    private readonly int[] _of;
    private readonly int[] _over;
    private readonly int[] _at;
    private readonly int[] _against;
    private readonly SortedSet<int> _settings = [];
    private readonly HashSet<int> _strips = [];
    private readonly bool[] _seen;
    private readonly int[] _waiting;

    public FlowRatio(PlannedFlow flow, DeskRouting live, PlannedRatio ratio, Dictionary<string, int> numberOf)
    {
        (_flow, _live) = (flow, live);
        Ratio = ratio;
        _seen = new bool[flow.Map.Nodes.Count];
        _waiting = new int[flow.Map.Nodes.Count];
        _of = Nodes(ratio.Of);
        _over = Nodes(ratio.Over);
        _against = [.. flow.Map.ColumnsOf(numberOf[ratio.Against.Key])];
        _at = [.. flow.Map.ColumnsOf(numberOf[ratio.At.Key]).Where(column => ratio.Buses.Count == ratio.At.Buses.Count || ratio.Buses.Any(bus => Leaves(bus, column)))];
        Planned = RoleBalance.Ratio(flow.Routing.Graph, _of, _over, _at, _against);
        Collect([.. _at, .. _against]);
    }

    /// <summary>What the plan says.</summary>
    public PlannedRatio Ratio { get; }

    /// <summary>The plan it stands in.</summary>
    public ShowPlan Plan => _flow.Plan;

    /// <summary>What the plan's own numbers make of it, in dB; not a number where nothing arrives.</summary>
    public double Planned { get; }

    /// <summary>Settings on the planned ways, by id; the sources' own strips are left out.</summary>
    public IReadOnlyCollection<int> Settings => _settings;

    /// <summary>What the state that was loaded last makes of it, in dB; not a number where nothing arrives.</summary>
    public double Live => MeetsCircle() ? double.NaN : RoleBalance.Ratio(_live.Graph, _of, _over, _at, _against);

    /// <summary>Whether a ratio is further off than the plan allows; false where there is none.</summary>
    public bool IsOff(double ratio) => Math.Abs(ratio - Ratio.Line.Be) > Ratio.Line.Within + Slack;

    /// <summary>Whether a setting moves it: one on its ways, or a connection between two strips on them.</summary>
    public bool HangsOn(Profiles.Setting setting) => _settings.Contains(setting.Id)
        || (_strips.Contains(setting.Strip) && EdgePaths.BusOf(setting) is { } bus && _flow.Plan.Profile.FindStrip(bus) is { } strip && _strips.Contains(strip.Id));

    /// <summary>What the state that was loaded last makes of it.</summary>
    public RatioReading Read(DeskState state)
    {
        var live = _settings.All(state.IsFresh) ? Live : double.NaN;
        return new RatioReading(Ratio, double.IsNaN(live) ? null : live, double.IsNaN(live) ? null : !IsOff(live));
    }

    private int[] Nodes(IReadOnlyList<PlannedStrip> strips) => [.. strips.Select(strip => _flow.Map.NodeOf(strip.Strip.Id)).Where(node => node >= 0)];

    private bool Leaves(string bus, int column)
    {
        foreach (var strip in _flow.Map.Strips)
        {
            if (_flow.Plan.Profile.Strips[strip.Strip].Path == bus && Array.Exists(strip.Nodes, node => _flow.Routing.Graph.Total(node)[column] != 0))
                return true;
        }

        return false;
    }

    private void Collect(int[] columns)
    {
        var seen = new HashSet<int>(_of.Concat(_over));
        var waiting = new Stack<int>(seen);
        while (waiting.TryPop(out var node))
        {
            if (_flow.Routing.StripAt(node) is { } strip)
                AddStrip(strip);
            foreach (var number in _flow.Routing.Graph.EdgesFrom(node))
            {
                var to = _flow.Routing.Graph.TargetOf(number);
                if (!Array.Exists(columns, column => _flow.Routing.Graph.Total(to)[column] != 0))
                    continue;
                AddEdge(number, IsInput(node));
                if (seen.Add(to))
                    waiting.Push(to);
            }
        }

        _settings.Remove(-1);
    }

    // While buses feed each other levels run away, and that is told by itself.
    private bool MeetsCircle()
    {
        var graph = _live.Graph;
        if (graph.Circles == 0)
            return false;
        Array.Clear(_seen);
        var count = 0;
        foreach (var sources in (ReadOnlySpan<int[]>)[_of, _over])
        {
            foreach (var node in sources)
                Await(node, ref count);
        }

        while (count > 0)
        {
            var node = _waiting[--count];
            if (graph.OnCircle(node))
                return true;
            foreach (var edge in graph.EdgesFrom(node))
                Await(graph.TargetOf(edge), ref count);
        }

        return false;
    }

    private void Await(int node, ref int count)
    {
        if (_seen[node])
            return;
        _seen[node] = true;
        _waiting[count++] = node;
    }

    private void AddEdge(int number, bool fromInput)
    {
        var edge = _flow.Map.Edges[number];
        _settings.UnionWith([edge.On, edge.Level]);
        // Of a source's own strip, which is taken as open, neither tap nor pan says anything.
        if (!fromInput)
            _settings.UnionWith([edge.Tap, edge.Side == 0 ? -1 : edge.Pan, edge.Side == 0 ? -1 : edge.PanFollow]);
        if (edge.Kind is EdgeKind.Output or EdgeKind.DirectOut)
        {
            var output = _flow.Map.Outputs[_flow.Routing.OutputAt(edge.To)];
            _settings.UnionWith([output.Source, output.On, output.Polarity]);
        }
    }

    private void AddStrip(StripStages strip)
    {
        _strips.Add(strip.Strip);
        if (_flow.Plan.Profile.Strips[strip.Strip].Kind == "input")
            return;
        _settings.UnionWith([strip.On, strip.Fader, strip.Polarity]);
        foreach (var (member, on, fader) in strip.Dcas.Where(dca => _flow.Plan.For(dca.Member) is { Planned.IsOn: true }))
            _settings.UnionWith([member, on, fader]);
        foreach (var (member, active) in strip.MuteGroups.Where(group => _flow.Plan.For(group.Member) is { Planned.IsOn: true }))
            _settings.UnionWith([member, active]);
    }

    private bool IsInput(int node) => _flow.Routing.StripAt(node) is { } strip && _flow.Plan.Profile.Strips[strip.Strip].Kind == "input";
}
