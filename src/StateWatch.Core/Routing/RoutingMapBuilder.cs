using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>Makes a <see cref="RoutingMap"/>.</summary>
internal sealed class RoutingMapBuilder(DeskProfile profile, ShowPlan plan)
{
    private readonly List<RoutingNode> _nodes = [];
    private readonly List<RoutingEdge> _edges = [];
    private readonly List<int> _terminals = [];
    private readonly List<StripStages> _strips = [];
    private readonly List<OutputStages> _outputs = [];
    private readonly Dictionary<int, StripStages> _stagesOf = [];
    private readonly Dictionary<int, int[]> _columnsOfFeed = [];
    private readonly Dictionary<string, int> _outputNode = new(StringComparer.Ordinal);
    private int[] _nodeOfStrip = [];

    public RoutingMap Build()
    {
        _nodeOfStrip = new int[profile.Strips.Count];
        Array.Fill(_nodeOfStrip, -1);
        foreach (var strip in profile.Strips)
        {
            if (SettingCatalogue.AudioStrips.Contains(strip.Kind))
                AddStrip(strip);
        }

        foreach (var strip in profile.Strips)
        {
            if (strip.Kind == "output")
                AddNode(new RoutingNode(NodeKind.Output, strip.Id, 0));
        }

        var effects = EffectReturns.Of(plan.Document);
        foreach (var stages in _strips)
            AddEdges(stages, effects);
        AddTalk();
        AddFeeds();
        AddPatches();
        return new RoutingMap(profile, _nodes, _edges, _terminals, _strips, _outputs, _columnsOfFeed, _nodeOfStrip);
    }

    private int AddNode(RoutingNode node)
    {
        if (node.Strip >= 0 && node.Kind != NodeKind.End && _nodeOfStrip[node.Strip] < 0)
            _nodeOfStrip[node.Strip] = _nodes.Count;
        if (node.Kind == NodeKind.Output)
            _outputNode[profile.Strips[node.Strip].Path] = _nodes.Count;
        _nodes.Add(node);
        return _nodes.Count - 1;
    }

    private void AddStrip(Strip strip)
    {
        int[] nodes = profile.Counts.IsStereo(strip.Kind)
            ? [AddNode(new RoutingNode(NodeKind.Strip, strip.Id, 1)), AddNode(new RoutingNode(NodeKind.Strip, strip.Id, 2))]
            : [AddNode(new RoutingNode(NodeKind.Strip, strip.Id, 0))];
        var stages = new StripStages(strip.Id, nodes);
        var dcas = new List<(int, int, int)>();
        var muteGroups = new List<(int, int)>();
        foreach (var id in profile.SettingsOf(strip.Id))
        {
            var setting = profile.Settings[id];
            switch (setting.Kind.Suffix)
            {
                case "on": stages.On = id; break;
                case "fader": stages.Fader = id; break;
                case "trim": stages.Trim = id; break;
                case "polarity" when setting.Codec.Kind == ValueKind.Switch: stages.Polarity = id; break;
                case "pan": stages.Pan = id; break;
                case "delay": stages.Delay = id; break;
                case "source": stages.Source = id; break;
                case "direct-out": stages.DirectOut = id; break;
                case "direct-out/tap": stages.DirectOutTap = id; break;
                case "dca/#":
                    var dca = LastNumber(setting.Path);
                    dcas.Add((id, profile.Find($"dca/{dca}/on"), profile.Find($"dca/{dca}/fader")));
                    break;
                case "mute-group/#":
                    muteGroups.Add((id, profile.Find($"mute-group/{LastNumber(setting.Path)}/active")));
                    break;
            }
        }

        stages.Dcas = [.. dcas];
        stages.MuteGroups = [.. muteGroups];
        _strips.Add(stages);
        _stagesOf[strip.Id] = stages;
    }

    private static string LastNumber(string path) => path[(path.LastIndexOf('/') + 1)..];

    private void AddEdges(StripStages stages, Dictionary<string, List<string>> effects)
    {
        var strip = profile.Strips[stages.Strip];
        foreach (var node in stages.Nodes)
        {
            foreach (var id in profile.SettingsOf(strip.Id))
            {
                var setting = profile.Settings[id];
                if (setting.Kind.Suffix is "assign/<bus>/#" or "send/<bus>/#/on")
                    AddBusEdges(stages, node, setting);
            }

            foreach (var back in effects.GetValueOrDefault(strip.Path) ?? [])
            {
                if (profile.FindStrip(back) is { } to && _nodeOfStrip[to.Id] >= 0)
                    _edges.Add(new RoutingEdge(EdgeKind.Effect, node, _nodeOfStrip[to.Id], -1, -1, -1, -1, -1, 0, -1));
            }
        }
    }

    private void AddBusEdges(StripStages stages, int node, Setting setting)
    {
        if (EdgePaths.BusOf(setting) is not { } path || profile.FindStrip(path) is not { } bus || !_stagesOf.TryGetValue(bus.Id, out var target))
            return;
        var isSend = setting.Kind.Suffix != "assign/<bus>/#";
        var lead = isSend ? setting.Path[..^"on".Length] : "";
        var level = isSend ? profile.Find(lead + "level") : -1;
        var tap = isSend ? profile.Find(lead + "tap") : -1;
        var ownPan = isSend ? profile.Find(lead + "pan") : -1;
        var follow = isSend ? profile.Find(lead + "pan-follow") : -1;
        var leg = _nodes[node].Leg;
        for (var i = 0; i < target.Nodes.Length; i++)
        {
            // Left goes to left and right to right; a mono strip to both by its pan; a stereo strip into a mono bus with both legs.
            if (target.Nodes.Length == 2 && leg != 0 && leg != i + 1)
                continue;
            var side = target.Nodes.Length == 2 ? leg == 0 ? i + 1 : 0 : SideOf(bus);
            var link = target.Nodes.Length == 2 ? -1 : LinkOf(bus);
            if (target.Nodes.Length == 1 && link < 0 && leg == 0)
                side = 0;
            _edges.Add(new RoutingEdge(isSend ? EdgeKind.Send : EdgeKind.Assign, node, target.Nodes[i], setting.Id, level, tap, ownPan >= 0 ? ownPan : stages.Pan, follow, side, link));
        }
    }

    // Where the plan pairs buses otherwise than odd with even, as 2-3, its first one is left.
    private int SideOf(Strip bus)
    {
        foreach (var feed in plan.Feeds)
        {
            if (feed.Stereo && feed.Buses.Count == 2 && feed.Buses.Contains(bus.Path))
                return feed.Buses[0] == bus.Path ? 1 : 2;
        }

        return bus.Number % 2 == 1 ? 1 : 2;
    }

    // Both of a pair say that they are linked; some desks say it of the first alone.
    private int LinkOf(Strip bus) => profile.Find($"{bus.Path}/linked") is >= 0 and var own ? own : profile.Find($"{bus.Kind}/{(bus.Number - 1) / 2 * 2 + 1}/linked");

    private void AddTalk()
    {
        if (profile.FindStrip("desk") is not { } desk)
            return;
        foreach (var id in profile.SettingsOf(desk.Id))
        {
            var setting = profile.Settings[id];
            if (setting.Kind.Suffix != "talk/#/on")
                continue;
            var circuit = setting.Path.Split('/')[2];
            var node = AddNode(new RoutingNode(NodeKind.Talk, -1, int.Parse(circuit, provider: null)));
            foreach (var routeId in profile.SettingsOf(desk.Id))
            {
                var route = profile.Settings[routeId];
                if (route.Kind.Suffix != "talk/#/to/<bus>-#" || !route.Path.StartsWith($"desk/talk/{circuit}/to/", StringComparison.Ordinal)
                    || EdgePaths.BusOf(route) is not { } path || profile.FindStrip(path) is not { } bus || !_stagesOf.TryGetValue(bus.Id, out var target))
                    continue;
                // The level of a talk circuit is not a setting that profiles know; its key is its switch, its route another.
                foreach (var to in target.Nodes)
                    _edges.Add(new RoutingEdge(EdgeKind.Talk, node, to, routeId, id, -1, -1, -1, 0, -1));
            }
        }
    }

    private void AddFeeds()
    {
        for (var number = 0; number < plan.Feeds.Count; number++)
        {
            var feed = plan.Feeds[number];
            var columns = new List<int>();
            foreach (var output in feed.Outputs)
            {
                if (_outputNode.TryGetValue(output, out var node))
                    columns.Add(AddColumn(node));
            }

            if (feed.Outputs.Count == 0)
            {
                foreach (var bus in feed.Buses)
                {
                    foreach (var node in profile.FindStrip(bus) is { } strip && _stagesOf.TryGetValue(strip.Id, out var stages) ? stages.Nodes : [])
                    {
                        var end = AddNode(new RoutingNode(NodeKind.End, _nodes[node].Strip, _nodes[node].Leg));
                        _edges.Add(new RoutingEdge(EdgeKind.End, node, end, -1, -1, -1, -1, -1, 0, -1));
                        columns.Add(AddColumn(end));
                    }
                }
            }

            _columnsOfFeed[number] = [.. columns];
        }
    }

    private int AddColumn(int node)
    {
        var column = _terminals.IndexOf(node);
        if (column >= 0)
            return column;
        _terminals.Add(node);
        return _terminals.Count - 1;
    }

    private void AddPatches()
    {
        foreach (var node in _outputNode.Values)
        {
            var strip = profile.Strips[_nodes[node].Strip];
            _outputs.Add(new OutputStages(strip.Id, node, profile.Find($"{strip.Path}/source"), profile.Find($"{strip.Path}/on"), Switch($"{strip.Path}/polarity"), _edges.Count, _edges.Count + 1));
            _edges.Add(new RoutingEdge(EdgeKind.Output, -1, node, -1, -1, -1, -1, -1, 0, -1));
            _edges.Add(new RoutingEdge(EdgeKind.DirectOut, -1, node, -1, -1, -1, -1, -1, 0, -1));
        }

        foreach (var stages in _strips)
        {
            if (stages.Source < 0)
                continue;
            stages.Loopback = _edges.Count;
            _edges.Add(new RoutingEdge(EdgeKind.Loopback, -1, stages.Nodes[0], -1, -1, -1, -1, -1, 0, -1));
        }
    }

    private int Switch(string path) => profile.Find(path) is >= 0 and var id && profile.Settings[id].Codec.Kind == ValueKind.Switch ? id : -1;
}
