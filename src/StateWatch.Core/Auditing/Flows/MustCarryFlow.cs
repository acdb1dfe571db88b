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
    private readonly Dictionary<int, List<MustCarryPair>> _stopped = [];
    private readonly SortedSet<int> _stages = [];
    private readonly SortedSet<int> _wanted = [];
    private readonly Dictionary<int, List<MustCarryPair>> _cancelled = [];
    private readonly DelayedSum _sum = new();
    private readonly bool[] _onPath;
    private int _steps;

    public MustCarryFlow(SignalFlow flow)
    {
        _flow = flow;
        _onPath = new bool[flow.Map.Nodes.Count];
        var plan = flow.Plan;
        foreach (var line in plan.Document.Feeds)
        {
            var number = Enumerable.Range(0, plan.Feeds.Count).FirstOrDefault(index => plan.Feeds[index].At == line.Key.At, -1);
            if (number < 0)
                continue;
            foreach (var role in line.Constraints.MustCarry)
            {
                foreach (var strips in plan.Strips.Where(strip => strip.Role == role.Text).GroupBy(strip => strip.OneOf ?? strip.Strip.Path, StringComparer.Ordinal))
                    Add(plan.Feeds[number], [.. strips], flow.Map.ColumnsOf(number));
            }
        }
    }

    /// <summary>Every setting on a planned way that could stop a source, by id.</summary>
    public IEnumerable<int> Stages => _stages;

    /// <summary>Where buses on those ways are tapped, and what moves a bus that was put where the plan does not want it, by id.</summary>
    public IEnumerable<int> Wanted => _wanted;

    /// <summary>What a setting stops in the state that was loaded last; null when nothing.</summary>
    public List<MustCarryPair>? StoppedBy(int setting) => _stopped.GetValueOrDefault(setting);

    /// <summary>
    /// Strips at which a second way could be turned so that it takes away the first; none without anything that must arrive.
    /// </summary>
    public IEnumerable<StripStages> Turns() => _pairs.Count == 0 ? [] : _flow.Between.Where(strip => strip.Polarity >= 0);

    /// <summary>What a setting cancels in the state that was loaded last, by a way of opposed polarity; null when nothing.</summary>
    public List<MustCarryPair>? CancelledBy(int setting) => _cancelled.GetValueOrDefault(setting);

    /// <summary>Looks at every pair again.</summary>
    public void Load()
    {
        _stopped.Clear();
        _cancelled.Clear();
        StageReader? stages = null;
        foreach (var pair in _pairs)
        {
            if (pair.Sources.Exists(Arrives))
                continue;
            stages ??= new StageReader(_flow.Live, _flow.View);
            var reader = stages;
            var (cancelled, stopped) = (pair.Sources.Where(IsCancelled).ToList(), pair.Sources.Where(source => !IsCancelled(source)));
            Note(_stopped, stopped.SelectMany(source => source.Ways).SelectMany(way => Stops(way, reader)), pair);
            Note(_cancelled, cancelled.SelectMany(source => Turns(source, reader)), pair);
        }
    }

    private static void Note(Dictionary<int, List<MustCarryPair>> pairs, IEnumerable<int> settings, MustCarryPair pair)
    {
        foreach (var setting in settings.Distinct())
        {
            if (!pairs.TryGetValue(setting, out var list))
                pairs.Add(setting, list = []);
            list.Add(pair);
        }
    }

    // Ways are open, and what they bring takes each other away.
    private bool IsCancelled(MustCarrySource source) => source.Columns.Sum(column => Dry(_flow.Live.Graph, source.Node, column)) >= Least * source.Planned;

    private void Add(Feed feed, List<PlannedStrip> strips, IReadOnlyList<int> columns)
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
                .Where(way => !way.Steps.Any(step => _flow.Map.Edges[step.Edge].Kind == EdgeKind.Effect)).ToList();
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
    private IEnumerable<int> Turns(MustCarrySource source, StageReader stages)
    {
        var ways = new WayFinder(_flow.Live).Find(source.Node, source.Columns, stages).Where(way => !way.Steps.Any(step => _flow.Map.Edges[step.Edge].Kind == EdgeKind.Effect)).ToList();
        if (ways.Find(way => way.Steps.All(step => _flow.Planned.Graph.GainOf(step.Edge) != 0)) is not { } planned)
            yield break;
        foreach (var way in ways.Where(way => way.Gain < 0 != planned.Gain < 0))
        {
            foreach (var step in way.Steps.Skip(1))
            {
                if (_flow.Live.StripAt(step.From) is not { Polarity: >= 0 } strip || !_flow.View[strip.Polarity].IsOn)
                    continue;
                yield return strip.Loopback >= 0 && _flow.Planned.Graph.SourceOf(strip.Loopback) != _flow.Live.Graph.SourceOf(strip.Loopback) ? strip.Source : strip.Polarity;
                break;
            }
        }
    }

    // The stages that stop a way; where none stops it alone, the one that takes most.
    private List<int> Stops(Way way, StageReader stages)
    {
        var stops = new List<int>();
        var (worst, most) = (-1, 0.0);
        foreach (var step in way.Steps)
        {
            var edge = _flow.Map.Edges[step.Edge];
            if (_flow.Live.Graph.SourceOf(step.Edge) != step.From)
            {
                stops.Add(_flow.Map.Outputs[_flow.Planned.OutputAt(edge.To)].Source);
                continue;
            }

            foreach (var stage in stages.Of(step.Edge))
            {
                if (stage.Setting < 0 || stage.Kind == StageKind.Patch)
                    continue;
                if (stage.Stops)
                    stops.Add(BlamedFor(step.From, stage.Setting));
                var planned = step.Stages.FirstOrDefault(other => other.Setting == stage.Setting).Level;
                if (planned - stage.Level > most && !stage.Stops)
                    (worst, most) = (BlamedFor(step.From, stage.Setting), planned - stage.Level);
            }
        }

        if (stops.Count == 0 && worst >= 0)
            stops.Add(worst);
        return stops;
    }

    private int BlamedFor(int node, int setting)
    {
        if (_flow.Live.StripAt(node) is not { } strip || _flow.Plan.Profile.Strips[strip.Strip].Kind == "input")
            return setting;
        foreach (var (member, on, fader) in strip.Dcas)
        {
            if ((on == setting || fader == setting) && !MayBeMember(member))
                return member;
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            if (active == setting && !MayBeMember(member))
                return member;
        }

        return setting;
    }
}

/// <summary>A source, or a set of which any one will do, and the feed at which it must arrive.</summary>
/// <param name="Feed">The feed.</param>
/// <param name="Sources">The source, or all of the set.</param>
internal sealed record MustCarryPair(Feed Feed, List<MustCarrySource> Sources);

/// <summary>One strip on its way to a feed.</summary>
/// <param name="Strip">The strip.</param>
/// <param name="Node">Its node.</param>
/// <param name="Columns">The feed's columns.</param>
/// <param name="Planned">Sum of all planned ways, over the columns.</param>
/// <param name="Ways">The ways as planned.</param>
internal sealed record MustCarrySource(PlannedStrip Strip, int Node, IReadOnlyList<int> Columns, double Planned, IReadOnlyList<Way> Ways);
