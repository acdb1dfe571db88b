using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// The settings that could make a feed hang on another: switches of all connections that could stand on a way, patches, and memberships in
/// what could move both. They are looked at whether or not a plan line names them.
/// </summary>
internal sealed class DependentSubjects(SignalFlow flow, IReadOnlyList<DependentFlow.Pair> pairs)
{
    private readonly ILookup<int, int> _edgesFrom = Enumerable.Range(0, flow.Map.Edges.Count).Where(edge => flow.Map.Edges[edge].From >= 0).ToLookup(edge => flow.Map.Edges[edge].From);

    /// <summary>All of them; some more than once.</summary>
    public HashSet<int> All()
    {
        var found = new HashSet<int>();
        foreach (var pair in pairs)
        {
            var leads = Leads(pair);
            var buses = flow.Map.Strips.Where(strip => pair.Buses.Contains(strip.Strip)).ToList();
            AddWays(buses, leads, found);
            foreach (var end in pair.Ends)
            {
                if (flow.Map.Nodes[end].Kind == NodeKind.Output)
                    found.Add(flow.Map.Outputs.First(output => output.Node == end).Source);
            }

            foreach (var strip in flow.Map.Strips)
            {
                if (strip.Source >= 0 && flow.Plan.For(strip.Source) is not null && leads[strip.Nodes[0]] && CanBeBus(strip.Source))
                    found.Add(strip.Source);
            }

            AddGroups(pair, buses, leads, found);
        }

        found.Remove(-1);
        return found;
    }

    // Many desks offer no bus to an input.
    private bool CanBeBus(int source) => flow.Plan.Profile.Settings[source].Codec.Words.Any(word => SettingCatalogue.BusKinds.Contains(word.Split(' ')[0]));

    // Every node from which there could be a way to the feed, if all were switched on; patches aside.
    private bool[] Leads(DependentFlow.Pair pair)
    {
        var leads = new bool[flow.Map.Nodes.Count];
        var waiting = new Stack<int>(pair.Ends.Concat(pair.Said.Feed.Buses.SelectMany(bus => flow.Plan.Profile.FindStrip(bus) is { } strip ? flow.Map.Strips.Where(stages => stages.Strip == strip.Id).SelectMany(stages => stages.Nodes) : [])));
        var edgesInto = _edgesFrom.SelectMany(edges => edges).ToLookup(edge => flow.Map.Edges[edge].To);
        foreach (var node in waiting)
            leads[node] = true;
        while (waiting.TryPop(out var node))
        {
            foreach (var from in edgesInto[node].Select(edge => flow.Map.Edges[edge].From).Where(from => !leads[from]))
            {
                leads[from] = true;
                waiting.Push(from);
            }
        }

        return leads;
    }

    private void AddWays(IEnumerable<StripStages> strips, bool[] leads, HashSet<int> found)
    {
        var seen = new HashSet<int>(strips.SelectMany(strip => strip.Nodes));
        var waiting = new Stack<int>(seen);
        while (waiting.TryPop(out var node))
        {
            foreach (var edge in _edgesFrom[node].Select(number => flow.Map.Edges[number]).Where(edge => leads[edge.To] && edge.Kind != EdgeKind.Talk))
            {
                found.Add(edge.On);
                if (seen.Add(edge.To))
                    waiting.Push(edge.To);
            }

            // Inputs that the plan itself patches to a bus.
            foreach (var strip in flow.Map.Strips.Where(strip => strip.Loopback >= 0 && flow.Planned.Graph.SourceOf(strip.Loopback) == node))
            {
                if (seen.Add(strip.Nodes[0]))
                    waiting.Push(strip.Nodes[0]);
            }
        }
    }

    // The buses' own memberships; where one is planned, those of all strips that could lead to the feed, and what planned members are connected by.
    private void AddGroups(DependentFlow.Pair pair, List<StripStages> buses, bool[] leads, HashSet<int> found)
    {
        var planned = new HashSet<(bool, string)>();
        foreach (var bus in buses)
        {
            foreach (var (isDca, member) in Members(bus))
            {
                found.Add(member);
                if (flow.Plan.For(member) is { Planned.IsOn: true })
                    planned.Add((isDca, Number(member)));
            }
        }

        if (planned.Count == 0)
            return;
        var held = new List<StripStages>();
        foreach (var strip in flow.Map.Strips.Where(strip => !pair.Buses.Contains(strip.Strip) && strip.Nodes.Any(node => leads[node])))
        {
            var members = Members(strip).Where(item => planned.Contains((item.IsDca, Number(item.Member)))).Select(item => item.Member).ToList();
            found.UnionWith(members);
            if (members.Exists(member => flow.Plan.For(member) is { Planned.IsOn: true }))
                held.Add(strip);
        }

        AddWays(held, leads, found);
        foreach (var edge in held.SelectMany(strip => strip.Nodes).SelectMany(node => _edgesFrom[node]).Select(number => flow.Map.Edges[number]).Where(edge => leads[edge.To] && edge.Tap >= 0 && flow.Plan.For(edge.Tap) is not null))
            found.Add(edge.Tap);
    }

    private static IEnumerable<(bool IsDca, int Member)> Members(StripStages strip) =>
        strip.Dcas.Select(dca => (true, dca.Member)).Concat(strip.MuteGroups.Select(group => (false, group.Member)));

    private string Number(int member) => flow.Plan.Profile.Settings[member].Path is var path ? path[(path.LastIndexOf('/') + 1)..] : "";
}
