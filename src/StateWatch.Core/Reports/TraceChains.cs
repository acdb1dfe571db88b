using System.Globalization;
using StateWatch.Core.Acoustics;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>The chains of a trace, strip by strip. Ways that differ only in their side, left or right, are told once.</summary>
internal sealed class TraceChains(TraceResult result, TextPage page)
{
    private const int MostShown = 4;

    private readonly ShowPlan _plan = result.Subject.Plan;
    private readonly RoutingMap _map = result.Map;
    private readonly WayDelays _delays = new(result.Map, result.State);

    /// <summary>Open ways, strongest first.</summary>
    public void WriteOpen(TracePair pair)
    {
        var groups = pair.Ways.GroupBy(way => $"{Strips(pair, way.Steps)} {TraceWords.Level(Decibels.OfFactor(way.Gain))} {way.Gain < 0} {_delays.Of(way):0.00}").ToList();
        var earliest = pair.Ways.Min(_delays.Of);
        var number = 0;
        foreach (var group in groups.Take(MostShown))
        {
            var way = group.First();
            var polarity = way.Gain < 0 ? ", polarity turned" : "";
            var later = _delays.Of(way) - earliest is > WayDelays.Same and var delay ? string.Create(CultureInfo.InvariantCulture, $", {delay:0.0#} ms later") : "";
            page.Add($"{TraceWords.Level(Decibels.OfFactor(way.Gain))}{polarity}{later}, to {Ends(group.Select(item => item.Column))}:", $"Way {++number} of {groups.Count}: ", 10);
            WriteSteps(way.Steps);
        }

        WriteComb(pair.Ways);
        if (groups.Count > MostShown)
            page.Add($"{groups.Count - MostShown} weaker ways are not shown{(pair.MoreWays ? ", and there are more" : "")}; --format json has {pair.Ways.Count}.", "", 3);
    }

    // What the strongest way and the strongest of another delay do to each other.
    private void WriteComb(IReadOnlyList<Way> ways)
    {
        var first = ways[0];
        if (ways.FirstOrDefault(way => way.Column == first.Column && Math.Abs(_delays.Of(way) - _delays.Of(first)) > WayDelays.Same) is not { } second)
            return;
        var comb = CombWords.Of(Math.Abs(_delays.Of(second) - _delays.Of(first)), Math.Abs(Decibels.OfFactor(first.Gain) - Decibels.OfFactor(second.Gain)), first.Gain < 0 != second.Gain < 0);
        page.Add($"Ways of different delay never cancel each other, but sound hollow together: {comb}.", "", 3);
    }

    /// <summary>Planned ways that are shut, fewest stops first.</summary>
    public void WriteClosed(TracePair pair)
    {
        var groups = pair.ClosedWays.GroupBy(way => $"{Strips(pair, way.Steps)} {string.Join(' ', way.Stops.Select(stop => stop.Kind))}").ToList();
        var number = 0;
        foreach (var group in groups.Take(MostShown))
        {
            var way = group.First();
            var stops = way.Stops.Count();
            page.Add($"shut at {stops} place{(stops == 1 ? "" : "s")}, to {Ends(group.Select(item => item.Column))}:", $"Planned way {++number} of {groups.Count}: ", 10);
            WriteSteps(way.Steps);
        }

        if (groups.Count > MostShown)
            page.Add($"{groups.Count - MostShown} more planned ways are not shown.", "", 3);
    }

    private void WriteSteps(IReadOnlyList<WayStep> steps)
    {
        foreach (var step in steps)
        {
            // A DCA that is open tells its level only, where that acts.
            var stages = step.Stages.Where(stage => stage.Kind != StageKind.DcaMute || stage.Stops || !step.Stages.Any(other => other.Kind == StageKind.DcaFader)).Select(stage => TraceWords.Stage(_plan, _map, result.State, step.Edge, stage)).ToList();
            page.Add($"{(stages.Count == 0 ? "" : string.Join(", ", stages) + ", ")}-> {Target(step.Edge)}", $"   {Node(_map.Nodes[step.From])}: ", 6);
        }
    }

    private string Node(RoutingNode node) => node.Kind == NodeKind.Talk ? $"talk {node.Leg}" : TraceWords.Strip(_plan, _map.Profile.Strips[node.Strip].Path) + (node.Leg == 0 ? "" : node.Leg == 1 ? " left" : " right");

    private string Target(int edge) => _map.Nodes[_map.Edges[edge].To] is { Kind: NodeKind.End } end ? $"end of {Node(end)}" : Node(_map.Nodes[_map.Edges[edge].To]);

    private string Ends(IEnumerable<int> columns) =>
        string.Join(", likewise ", columns.Distinct().Order().Select(column => _map.Nodes[_map.Terminals[column]].Strip).Distinct().Select(strip => TraceWords.Place(_map.Profile.Strips[strip].Path)));

    // The buses of the feed itself are left and right, or one for each listener: alike unless their levels differ.
    private string Strips(TracePair pair, IReadOnlyList<WayStep> steps) => string.Join(' ', steps.Select(step =>
    {
        var strip = _map.Nodes[step.From].Strip;
        return $"{(strip >= 0 && pair.To.Feed.Buses.Contains(_map.Profile.Strips[strip].Path) ? "feed" : strip)}.{_map.Edges[step.Edge].Kind}";
    }));
}
