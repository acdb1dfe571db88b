using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Where a loop through the air enters and leaves the desk. Of a loudspeaker feed with several outputs the loudest counts: a microphone
/// panned to one side is as loud there as a coupling that was measured with all of them. Of a strip with two legs likewise.
/// </summary>
/// <param name="Nodes">The microphone's nodes.</param>
/// <param name="Columns">The loudspeaker's columns.</param>
internal readonly record struct LoopEnds(int[] Nodes, int[] Columns)
{
    /// <summary>The ends of a microphone and a loudspeaker of a plan.</summary>
    public static LoopEnds Of(ShowPlan plan, RoutingMap map, PlannedStrip microphone, Loudspeaker loudspeaker) =>
        new(NodesOf(map, microphone), ColumnsOf(plan, map, loudspeaker));

    /// <summary>The nodes of a microphone.</summary>
    public static int[] NodesOf(RoutingMap map, PlannedStrip microphone) => map.Strips.FirstOrDefault(strip => strip.Strip == microphone.Strip.Id)?.Nodes ?? [];

    /// <summary>The columns of a loudspeaker: a feed with one for each bus has an output for each bus, or several times as many in the same order.</summary>
    public static int[] ColumnsOf(ShowPlan plan, RoutingMap map, Loudspeaker loudspeaker)
    {
        var columns = map.ColumnsOf(loudspeaker.Feed);
        var buses = plan.Feeds[loudspeaker.Feed].Buses.Count;
        return loudspeaker.Position == 0 || columns.Count % buses != 0 ? [.. columns] : [.. columns.Where((_, index) => index % buses == loudspeaker.Position - 1)];
    }

    /// <summary>The gain between them: sum of the magnitudes of all ways, and sum of their squares.</summary>
    public (double Total, double Power) GainIn(GainGraph graph)
    {
        var (total, power) = (0.0, 0.0);
        foreach (var node in Nodes)
        {
            foreach (var column in Columns)
            {
                total = Math.Max(total, graph.Total(node)[column]);
                power = Math.Max(power, graph.Power(node)[column]);
            }
        }

        return (total, power);
    }
}
