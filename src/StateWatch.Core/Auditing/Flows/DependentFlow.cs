using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// Feeds that hang on another one though the plan says that they must not: by a way from its buses, or by a DCA or mute group that holds its
/// buses and a strip on a way here. A way counts from the moment it is switched on, however far its faders are down and whatever is muted:
/// it is what happens when somebody moves them. Told at the first connection on the way that the plan does not make.
/// </summary>
internal sealed class DependentFlow
{
    private readonly SignalFlow _flow;
    private readonly List<Pair> _pairs = [];
    private readonly Dictionary<int, List<Dependent>> _found = [];
    private readonly DependentReach _reach;
    private readonly Dictionary<int, int> _placeOf = [];
    private readonly int _firstFact;
    private readonly int[] _before;
    private readonly Dictionary<int, string> _groupOf = [];
    private readonly int[] _waiting;
    private readonly List<Membership> _ofBus = [];
    private readonly List<Membership> _ofOther = [];
    private readonly int[] _stripOfNode;
    private bool _isDue = true;

    public DependentFlow(SignalFlow flow)
    {
        _flow = flow;
        _before = new int[flow.Map.Nodes.Count];
        _waiting = new int[flow.Map.Nodes.Count];
        foreach (var member in flow.Map.Strips.SelectMany(strip => strip.Dcas.Select(dca => dca.Member).Concat(strip.MuteGroups.Select(group => group.Member))))
            _groupOf[member] = LastNumber(flow.Plan.Profile.Settings[member].Path);
        _stripOfNode = [.. flow.Map.Nodes.Select(node => node.Kind == NodeKind.Strip ? node.Strip : -1)];
        var plan = flow.Plan;
        var numberOf = Enumerable.Range(0, plan.Feeds.Count).ToDictionary(number => plan.Feeds[number].Key, number => number, StringComparer.Ordinal);
        foreach (var said in plan.Independent)
        {
            var buses = new HashSet<int>(said.Of.Buses.Select(bus => plan.Profile.FindStrip(bus)).OfType<Profiles.Strip>().Select(strip => strip.Id));
            var ends = flow.Map.ColumnsOf(numberOf[said.Feed.Key]).Select(column => flow.Map.Terminals[column]).ToArray();
            _pairs.Add(new Pair(said, buses, ends, new bool[flow.Map.Nodes.Count]));
        }

        Subjects = _pairs.Count == 0 ? [] : [.. new DependentSubjects(flow, _pairs).All().Order()];
        foreach (var subject in Subjects)
            _placeOf.Add(subject, _placeOf.Count);
        _firstFact = flow.Facts.Reserve(Subjects.Count);
        _reach = new DependentReach(flow, _pairs);
    }

    /// <summary>Every setting at which a dependence may be told, by id.</summary>
    public IReadOnlyList<int> Subjects { get; }

    /// <summary>What a setting makes dependent in the state that was looked at last; null when nothing.</summary>
    public IReadOnlyList<Dependent>? MadeBy(int setting) => _found.GetValueOrDefault(setting);

    /// <summary>The number of the fact of what a setting makes dependent.</summary>
    public int FactOf(int setting) => _firstFact + _placeOf[setting];

    /// <summary>Notes that a setting of the signal flow changed.</summary>
    public void Touch(int setting, SettingValue before, SettingValue after) => _isDue = _isDue || _reach.IsReached(setting, before, after);

    /// <summary>Notes that a setting may have changed: memberships of inputs count as they are.</summary>
    public void TouchMember(int setting, DeskState state) => _isDue |= _reach.Joins(setting, state);

    /// <summary>Looks at every pair again, if a change may have reached one. Few changes do; it allocates then.</summary>
    /// <param name="state">The live state: memberships of inputs count as they are.</param>
    public void Update(DeskState state)
    {
        if (!_isDue)
            return;
        _isDue = false;
        MarkFound();
        _found.Clear();
        foreach (var pair in _pairs)
        {
            MarkWays(pair);
            FindWays(pair);
            FindGroups(pair, state);
        }

        MarkFound();
    }

    private void MarkFound()
    {
        foreach (var setting in _found.Keys)
        {
            if (_placeOf.TryGetValue(setting, out var place))
                _flow.Facts.Mark(_firstFact + place);
        }
    }

    /// <summary>Whether an edge is switched on, whatever stands on the strip before it.</summary>
    private bool IsConnected(int number)
    {
        var edge = _flow.Map.Edges[number];
        var from = _flow.Live.Graph.SourceOf(number);
        return from >= 0 && edge.Kind switch
        {
            EdgeKind.Assign => _flow.View[edge.On].IsOn && _flow.Live.ShareOf(number, _flow.View) != 0,
            EdgeKind.Send => _flow.View[edge.On].IsOn && !(edge.Level >= 0 && double.IsNegativeInfinity(_flow.View[edge.Level].Number)) && _flow.Live.ShareOf(number, _flow.View) != 0,
            EdgeKind.Talk => false,
            _ => true,
        };
    }

    // Every node from which a connected way leads to the feed.
    private void MarkWays(Pair pair)
    {
        Array.Clear(pair.Leads);
        var count = 0;
        foreach (var end in pair.Ends)
        {
            pair.Leads[end] = true;
            _waiting[count++] = end;
        }

        while (count > 0)
        {
            foreach (var edge in _flow.Live.Graph.EdgesInto(_waiting[--count]))
            {
                if (_flow.Live.Graph.SourceOf(edge) is >= 0 and var from && !pair.Leads[from] && IsConnected(edge))
                {
                    pair.Leads[from] = true;
                    _waiting[count++] = from;
                }
            }
        }
    }

    private void FindWays(Pair pair)
    {
        for (var node = 0; node < _stripOfNode.Length; node++)
        {
            if (pair.Leads[node] && pair.Buses.Contains(_stripOfNode[node]))
                Blame(pair, node, -1, new Dependent(pair.Said, _stripOfNode[node], -1, -1, []));
        }
    }

    // Follows planned connections; each first one that the plan does not make answers. Where the plan makes all of them, the first one does.
    private void Blame(Pair pair, int start, int firstEdge, Dependent dependent)
    {
        Array.Fill(_before, -1);
        var waiting = new Queue<int>([start]);
        var blamed = false;
        var last = -1;
        while (waiting.TryDequeue(out var node))
        {
            foreach (var edge in _flow.Live.Graph.AllEdgesFrom(node))
            {
                var to = _flow.Live.Graph.TargetOf(edge);
                if (!pair.Leads[to] || !IsConnected(edge) || (firstEdge >= 0 && node == start && edge != firstEdge))
                    continue;
                if (SettingOf(edge, node) is >= 0 and var setting && !IsPlanned(setting))
                {
                    blamed = true;
                    Keep(setting, dependent with { Way = [.. WayTo(node, start), edge, .. Onward(pair, to)] });
                }
                else if (to != start && _before[to] < 0)
                {
                    _before[to] = edge;
                    waiting.Enqueue(to);
                    if (Array.IndexOf(pair.Ends, to) >= 0)
                        last = to;
                }
            }
        }

        if (blamed || last < 0)
            return;
        // All connections are as planned: where a group acts the tap is not, or else the plan itself makes it.
        var way = WayTo(last, start);
        var tap = _flow.Map.Edges[way[0]].Tap;
        var planned = dependent.BusMember < 0 ? SettingOf(way[0], start) : tap >= 0 && _flow.Plan.For(tap) is { } point && !point.Allows(_flow.View[tap]) ? tap : dependent.BusMember;
        if (planned >= 0)
            Keep(planned, dependent with { Way = way });
    }

    private void FindGroups(Pair pair, DeskState state)
    {
        StageReader? stages = null;
        for (var number = 0; number < _flow.Map.Strips.Count; number++)
        {
            var strip = _flow.Map.Strips[number];
            if (!pair.Buses.Contains(strip.Strip))
                continue;
            FindMemberships(strip, state, _ofBus);
            foreach (var bus in _ofBus)
            {
                for (var second = 0; second < _flow.Map.Strips.Count; second++)
                {
                    var other = _flow.Map.Strips[second];
                    if (pair.Buses.Contains(other.Strip) || !Leads(pair, other))
                        continue;
                    FindMemberships(other, state, _ofOther);
                    foreach (var member in _ofOther)
                    {
                        if (member.Group != bus.Group || member.IsDca != bus.IsDca)
                            continue;
                        stages ??= new StageReader(_flow.Live, _flow.View);
                        if (FirstMoved(pair, other, member, stages) is not (>= 0 and var edge))
                            continue;
                        var (start, dependent) = (_flow.Live.Graph.SourceOf(edge), new Dependent(pair.Said, strip.Strip, bus.Member, member.Member, [edge, .. Onward(pair, _flow.Live.Graph.TargetOf(edge))]));
                        if (_flow.Plan.For(bus.Member) is not { Planned.IsOn: true })
                            Keep(bus.Member, dependent);
                        else if (_flow.Plan.For(member.Member) is not { Planned.IsOn: true })
                            Keep(member.Member, dependent);
                        else
                            Blame(pair, start, edge, dependent);
                    }
                }
            }
        }
    }

    private int FirstMoved(Pair pair, StripStages strip, Membership member, StageReader stages) =>
        strip.Nodes.SelectMany(node => Moved(pair, node, member, stages)).FirstOrDefault(-1);

    // Edges towards the feed that a group acts on.
    private IEnumerable<int> Moved(Pair pair, int node, Membership member, StageReader stages)
    {
        foreach (var edge in _flow.Live.Graph.AllEdgesFrom(node).ToArray())
        {
            if (!pair.Leads[_flow.Live.Graph.TargetOf(edge)] || !IsConnected(edge))
                continue;
            var muted = stages.IsAfterMute(edge);
            if ((muted && member.Mutes) || (member.Moves && (stages.IsAfterFader(edge) || (muted && _flow.Live.Behaviour.DcaMovesPreFader))))
                yield return edge;
        }
    }

    private static bool Leads(Pair pair, StripStages strip)
    {
        foreach (var node in strip.Nodes)
        {
            if (pair.Leads[node])
                return true;
        }

        return false;
    }

    private void FindMemberships(StripStages strip, DeskState state, List<Membership> found)
    {
        found.Clear();
        foreach (var (member, on, fader) in strip.Dcas)
        {
            if (state[member].IsOn)
                found.Add(new Membership(true, _groupOf[member], member, on >= 0, fader >= 0));
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            if (state[member].IsOn)
                found.Add(new Membership(false, _groupOf[member], member, active >= 0, false));
        }
    }

    private static string LastNumber(string path) => path[(path.LastIndexOf('/') + 1)..];

    private List<int> WayTo(int node, int start)
    {
        var way = new List<int>();
        for (; node != start; node = _flow.Live.Graph.SourceOf(_before[node]))
            way.Insert(0, _before[node]);
        return way;
    }

    // The shortest connected way from a node to the feed.
    private List<int> Onward(Pair pair, int node)
    {
        var before = new Dictionary<int, int>();
        var waiting = new Queue<int>([node]);
        while (waiting.TryDequeue(out var at))
        {
            if (Array.IndexOf(pair.Ends, at) >= 0)
            {
                var way = new List<int>();
                for (; at != node; at = _flow.Live.Graph.SourceOf(before[at]))
                    way.Insert(0, before[at]);
                return way;
            }

            foreach (var edge in _flow.Live.Graph.AllEdgesFrom(at))
            {
                var to = _flow.Live.Graph.TargetOf(edge);
                if (to != node && pair.Leads[to] && IsConnected(edge) && before.TryAdd(to, edge))
                    waiting.Enqueue(to);
            }
        }

        return [];
    }

    // The setting that makes an edge, or -1 where only the plan does.
    private int SettingOf(int number, int from)
    {
        var edge = _flow.Map.Edges[number];
        return edge.Kind switch
        {
            EdgeKind.Assign or EdgeKind.Send => edge.On,
            EdgeKind.Output => _flow.Map.Outputs[_flow.Live.OutputAt(edge.To)].Source,
            EdgeKind.DirectOut => _flow.Live.StripAt(from)?.DirectOut ?? -1,
            EdgeKind.Loopback => _flow.Live.StripAt(edge.To)?.Source ?? -1,
            _ => -1,
        };
    }

    // A switch that the plan wants on, a patch that stands as the plan wants it. A patch that no line names is passed over.
    private bool IsPlanned(int setting) => _flow.Plan.For(setting) is { } planned ? planned.Allows(_flow.View[setting]) : _flow.Plan.Profile.Settings[setting].Kind.Suffix is "source" or "direct-out";

    private void Keep(int setting, Dependent dependent)
    {
        if (!_found.TryGetValue(setting, out var list))
            _found.Add(setting, list = []);
        if (!list.Exists(other => other.Said == dependent.Said))
            list.Add(dependent);
    }

    /// <summary>A feed and another that must not move it.</summary>
    /// <param name="Said">What the plan says.</param>
    /// <param name="Buses">Strip ids of the other feed's buses.</param>
    /// <param name="Ends">Nodes where the feed leaves the desk.</param>
    /// <param name="Leads">Whether a connected way leads from a node to the feed, in the state that was looked at last.</param>
    internal sealed record Pair(IndependentPair Said, HashSet<int> Buses, int[] Ends, bool[] Leads);

    private readonly record struct Membership(bool IsDca, string Group, int Member, bool Mutes, bool Moves);
}

/// <summary>A feed that hangs on another.</summary>
/// <param name="Said">What the plan says.</param>
/// <param name="Bus">Strip id of the other feed's bus.</param>
/// <param name="BusMember">That bus's membership in the DCA or mute group that moves both; -1 when a way leads from it.</param>
/// <param name="Member">The membership of the strip on the way; likewise.</param>
/// <param name="Way">The edges from the bus, or from the strip, to the feed.</param>
internal sealed record Dependent(IndependentPair Said, int Bus, int BusMember, int Member, IReadOnlyList<int> Way);
