using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// Which sources do not arrive where they must, and the settings that stop them. Ways by way of an effect do not count: a voice that arrives
/// as its reverberation only does not arrive.
/// </summary>
internal sealed class MustCarryFlow
{
    /// <summary>What must arrive at least, of the same sum of ways as planned: -60 dB, the lowest mark of common fader scales. Common practice, no source.</summary>
    public const double Least = 1e-3;

    // A desk whose inputs take their signal from buses can have more ways than could be walked.
    private const int MostSteps = 20_000;

    private readonly SignalFlow _flow;
    private readonly List<MustCarryPair> _pairs = [];
    private readonly SortedSet<int> _stages = [];
    private readonly SortedSet<int> _wanted = [];
    private readonly DelayedSum _sum = new();
    private readonly HashSet<int> _delays;
    private readonly StoppedPairs _turned;
    private readonly List<int> _turns = [];
    private readonly StoppedPairs _stopped;
    private readonly WayStops _stops;
    private readonly int[]?[] _pairsOf;
    private readonly PendingSet _due;
    private readonly bool[] _arrives;
    private readonly List<int> _now = [];
    private readonly bool[] _onPath;
    private int _steps;

    public MustCarryFlow(SignalFlow flow)
    {
        _flow = flow;
        _onPath = new bool[flow.Map.Nodes.Count];
        _delays = [.. WayDelays.Settings(flow.Map)];
        var plan = flow.Plan;
        foreach (var line in plan.Document.Feeds)
        {
            var number = Enumerable.Range(0, plan.Feeds.Count).FirstOrDefault(index => plan.Feeds[index].At == line.Key.At, -1);
            if (number < 0)
                continue;
            foreach (var role in line.Constraints.MustCarry)
            {
                foreach (var strips in plan.Strips.Where(strip => strip.Role == role.Text).GroupBy(strip => strip.OneOf ?? strip.Strip.Path, StringComparer.Ordinal))
                    Add(plan.Feeds[number], [.. strips], [.. flow.Map.ColumnsOf(number)]);
            }
        }

        _stopped = new StoppedPairs(flow.Facts, _stages, _pairs.Count);
        _turned = new StoppedPairs(flow.Facts, [.. Turns.SelectMany(strip => (int[])[strip.Source, strip.Polarity]).Where(setting => setting >= 0).Distinct()], _pairs.Count);
        _stops = new WayStops(flow, MayBeMember);
        _pairsOf = PairsBySetting();
        _due = new PendingSet(_pairs.Count);
        _arrives = new bool[_pairs.Count];
    }

    /// <summary>Every setting on a planned way that could stop a source, by id.</summary>
    public IEnumerable<int> Stages => _stages;

    /// <summary>Where buses on those ways are tapped, and what moves a bus that was put where the plan does not want it, by id.</summary>
    public IEnumerable<int> Wanted => _wanted;

    /// <summary>The number of the fact of what a stage stops.</summary>
    public int FactOf(int stage) => _stopped.FactOf(stage);

    /// <summary>Whether a stage stops anything in the state that was looked at last.</summary>
    public bool IsStoppedBy(int stage) => _stopped.By(stage).Count > 0;

    /// <summary>What a stage stops in the state that was looked at last.</summary>
    public List<MustCarryPair> StoppedBy(int stage) => [.. _stopped.By(stage).Select(pair => _pairs[pair])];

    /// <summary>Strips at which a second way could be turned so that it takes away the first; none without anything that must arrive.</summary>
    public IEnumerable<StripStages> Turns => _pairs.Count == 0 ? [] : _flow.Between.Where(strip => strip.Polarity >= 0);

    /// <summary>The number of the fact of what a turn cancels.</summary>
    public int TurnFactOf(int turn) => _turned.FactOf(turn);

    /// <summary>Whether a patch or polarity cancels anything in the state that was looked at last, by a way of opposed polarity.</summary>
    public bool IsCancelledBy(int turn) => _turned.By(turn).Count > 0;

    /// <summary>What a patch or polarity cancels in the state that was looked at last.</summary>
    public List<MustCarryPair> CancelledBy(int turn) => [.. _turned.By(turn).Select(pair => _pairs[pair])];

    /// <summary>Notes that a setting of the signal flow changed: it may decide what stops a pair that does not arrive.</summary>
    public void Touch(int setting)
    {
        if (_flow.Live.Depends.IsPatch(setting) || _delays.Contains(setting))
        {
            for (var pair = 0; pair < _pairs.Count; pair++)
                _due.Add(pair);
        }

        foreach (var pair in _pairsOf[setting] ?? [])
        {
            if (!_arrives[pair])
                _due.Add(pair);
        }
    }

    /// <summary>Looks again at every pair that a change reaches.</summary>
    /// <param name="reached">Everything from which ways lead to what the graph has computed again.</param>
    public void Update(NodeSet reached)
    {
        for (var pair = 0; pair < _pairs.Count; pair++)
        {
            foreach (var source in _pairs[pair].Sources)
            {
                if (reached.Contains(source.Node))
                    _due.Add(pair);
            }
        }

        foreach (var pair in _due.Take())
            Look(pair);
    }

    private void Look(int number)
    {
        var arrives = false;
        foreach (var source in _pairs[number].Sources)
            arrives = arrives || Arrives(source);
        _now.Clear();
        _turns.Clear();
        if (!arrives)
        {
            foreach (var source in _pairs[number].Sources)
            {
                if (IsCancelled(source))
                {
                    AddTurns(source);
                    continue;
                }

                foreach (var way in source.Ways)
                    _stops.AddTo(_now, way);
            }
        }

        _arrives[number] = arrives;
        _stopped.Set(number, _now);
        _turned.Set(number, _turns);
    }

    // Whatever stands on the ways of a pair, by the setting that decides it.
    private int[]?[] PairsBySetting()
    {
        var byStrip = new SortedSet<int>[_flow.Map.Strips.Count];
        var byEdge = new SortedSet<int>[_flow.Map.Edges.Count];
        for (var pair = 0; pair < _pairs.Count; pair++)
        {
            foreach (var step in _pairs[pair].Sources.SelectMany(source => source.Ways).SelectMany(way => way.Steps))
            {
                (byEdge[step.Edge] ??= []).Add(pair);
                if (_flow.Live.StripNumberOf(step.From) is >= 0 and var strip)
                    (byStrip[strip] ??= []).Add(pair);
            }
        }

        var pairs = new int[]?[_flow.Plan.Profile.Settings.Count];
        var found = new SortedSet<int>();
        foreach (var setting in _flow.Live.Inputs)
        {
            found.Clear();
            foreach (var strip in _flow.Live.Depends.StripsOf(setting))
                found.UnionWith(byStrip[strip] ?? []);
            foreach (var edge in _flow.Live.Depends.EdgesOf(setting))
                found.UnionWith(byEdge[edge] ?? []);
            if (found.Count > 0)
                pairs[setting] = [.. found];
        }

        return pairs;
    }

    // Ways are open, and what they bring takes each other away.
    private bool IsCancelled(MustCarrySource source)
    {
        var sum = 0.0;
        foreach (var column in source.Columns)
            sum += Dry(_flow.Live.Graph, source.Node, column);
        return sum >= Least * source.Planned;
    }

    private void Add(Feed feed, List<PlannedStrip> strips, int[] columns)
    {
        var sources = new List<MustCarrySource>();
        foreach (var strip in strips)
        {
            if (_flow.Map.NodeOf(strip.Strip.Id) is not (>= 0 and var node))
                continue;
            var planned = columns.Sum(column => Dry(_flow.Planned.Graph, node, column));
            // What the plan itself shuts, as at a cue, or what the profile does not see, cannot be compared.
            if (!(planned > 0) || !double.IsFinite(planned))
                continue;
            var ways = new WayFinder(_flow.Planned).Find(node, columns, _flow.PlannedStages)
                .Where(way => !way.Steps.Any(step => _flow.Map.Edges[step.Edge].Kind == EdgeKind.Effect)).ToArray();
            sources.Add(new MustCarrySource(strip, node, columns, planned, ways));
        }

        if (sources.Count != strips.Count)
            return;
        _pairs.Add(new MustCarryPair(feed, sources));
        foreach (var step in sources.SelectMany(source => source.Ways).SelectMany(way => way.Steps))
            AddStages(step);
    }

    private void AddStages(WayStep step)
    {
        var edge = _flow.Map.Edges[step.Edge];
        List<int> settings = [edge.On, edge.Level, edge.Side == 0 ? -1 : edge.Pan];
        if (_flow.Planned.StripAt(step.From) is { } strip && _flow.Plan.Profile.Strips[strip.Strip].Kind != "input")
        {
            settings.AddRange([strip.On, strip.Fader]);
            if (edge.Tap >= 0)
                _wanted.Add(edge.Tap);
            // A membership that the plan does not want is to blame, not the DCA or mute group.
            settings.AddRange(strip.Dcas.SelectMany(dca => MayBeMember(dca.Member) ? (int[])[dca.On, dca.Fader] : [dca.Member]));
            settings.AddRange(strip.MuteGroups.Select(group => MayBeMember(group.Member) ? group.Active : group.Member));
            _wanted.UnionWith(strip.Dcas.Where(dca => !MayBeMember(dca.Member)).SelectMany(dca => (int[])[dca.On, dca.Fader]).Concat(strip.MuteGroups.Where(group => !MayBeMember(group.Member)).Select(group => group.Active)).Where(setting => setting >= 0));
        }

        if (edge.Kind is EdgeKind.Output or EdgeKind.DirectOut)
        {
            var output = _flow.Map.Outputs[_flow.Planned.OutputAt(edge.To)];
            settings.AddRange([output.On, output.Source]);
        }

        _stages.UnionWith(settings.Where(setting => setting >= 0));
    }

    private bool MayBeMember(int member) => _flow.Plan.For(member) is not { Planned.IsOn: false };

    private bool Arrives(MustCarrySource source)
    {
        var signed = _flow.Live.Graph.Signed(source.Node);
        var total = _flow.Live.Graph.Total(source.Node);
        var sum = 0.0;
        foreach (var column in source.Columns)
        {
            // Where all ways are of one polarity nothing can cancel.
            sum += Math.Abs(signed[column]) >= total[column] * (1 - 1e-9) ? Dry(_flow.Live.Graph, source.Node, column) : Left(source.Node, column);
        }

        // A hair less, so that rounding does not decide at exactly -60 dB.
        return sum >= Least * (1 - 1e-9) * source.Planned;
    }

    // Sum of all ways without effects; none passes a node twice.
    private double Dry(GainGraph graph, int node, int column)
    {
        _steps = 0;
        var sum = Walk(graph, node, column);
        return _steps > MostSteps ? graph.Total(node)[column] : sum;
    }

    private double Walk(GainGraph graph, int node, int column)
    {
        if (_steps++ > MostSteps)
            return 0;
        if (node == _flow.Map.Terminals[column])
            return 1;
        var sum = 0.0;
        _onPath[node] = true;
        foreach (var edge in graph.EdgesFrom(node))
        {
            var to = graph.TargetOf(edge);
            if (!_onPath[to] && graph.Total(to)[column] != 0 && _flow.Map.Edges[edge].Kind != EdgeKind.Effect)
                sum += Math.Abs(graph.GainOf(edge)) * Walk(graph, to, column);
        }

        _onPath[node] = false;
        return sum;
    }

    // What is left of the ways without effects where those of opposed polarity take each other away.
    private double Left(int node, int column)
    {
        _steps = 0;
        _sum.Clear();
        Collect(node, column, 1, 0);
        return _steps > MostSteps ? _flow.Live.Graph.Total(node)[column] : _sum.Left();
    }

    private void Collect(int node, int column, double gain, double delay)
    {
        if (_steps++ > MostSteps)
            return;
        if (node == _flow.Map.Terminals[column])
        {
            _sum.Add(delay, gain);
            return;
        }

        var graph = _flow.Live.Graph;
        _onPath[node] = true;
        foreach (var edge in graph.EdgesFrom(node))
        {
            var to = graph.TargetOf(edge);
            if (!_onPath[to] && graph.Total(to)[column] != 0 && _flow.Map.Edges[edge].Kind != EdgeKind.Effect)
                Collect(to, column, gain * graph.GainOf(edge), delay + _flow.Delays.Of(edge, node));
        }

        _onPath[node] = false;
    }

    // Where the ways that are opposed to the planned ones turn: at a patch that the plan does not make, or at a polarity.
    private void AddTurns(MustCarrySource source)
    {
        var ways = new WayFinder(_flow.Live).Find(source.Node, source.Columns, new StageReader(_flow.Live, _flow.View)).Where(way => !way.Steps.Any(step => _flow.Map.Edges[step.Edge].Kind == EdgeKind.Effect)).ToList();
        if (ways.Find(way => way.Steps.All(step => _flow.Planned.Graph.GainOf(step.Edge) != 0)) is not { } planned)
            return;
        foreach (var way in ways.Where(way => way.Gain < 0 != planned.Gain < 0))
        {
            var turn = way.Steps.Skip(1).Select(step => _flow.Live.StripAt(step.From)).FirstOrDefault(strip => strip is { Polarity: >= 0 } && _flow.View[strip.Polarity].IsOn);
            if (turn is not null)
                _turns.Add(turn.Loopback >= 0 && _flow.Planned.Graph.SourceOf(turn.Loopback) != _flow.Live.Graph.SourceOf(turn.Loopback) ? turn.Source : turn.Polarity);
        }
    }
}
