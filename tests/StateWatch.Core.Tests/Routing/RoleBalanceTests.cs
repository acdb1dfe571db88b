using StateWatch.Core.Desks;
using StateWatch.Core.Routing;
using static StateWatch.Core.Tests.Routing.DemoRouting;

namespace StateWatch.Core.Tests.Routing;

public class RoleBalanceTests
{
    [Fact] // Common practice, no source: fed from the room and once more, as loud, from the voices, a fill holds voices twice as high by voltage: 6.0 dB.
    public void A_fill_that_gets_the_voices_once_more_holds_them_six_decibels_over_the_band()
    {
        var state = PlannedDesk();
        Assert.Equal(20 * Math.Log10(2), Ratio(state, "talker", "guitars"), 1e-9);
        // Without the second way nobody is held over anybody.
        state.Set("group/1/send/matrix/1/on", "off");
        Assert.Equal(0, Ratio(state, "talker", "guitars"), 1e-9);
    }

    [Fact]
    public void Where_one_of_them_is_silent_there_is_no_ratio()
    {
        var state = PlannedDesk();
        state.Set("group/4/on", "off");
        Assert.True(double.IsNaN(Ratio(state, "talker", "guitars")));
    }

    [Fact] // Ten lg N of equal sources (by hand).
    public void Sources_add_by_power_and_ways_by_voltage()
    {
        // 0 and 1 by one way each, 2 by two ways; all into terminal 3.
        var graph = new GainGraph(5, [(0, 3), (1, 3), (2, 3), (2, 4), (4, 3)], [3]);
        for (var edge = 0; edge < 5; edge++)
            graph.SetGain(edge, 1);
        graph.Update();
        Assert.Equal(10 * Math.Log10(2), RoleBalance.Level(graph, [0, 1], [0]), 1e-12);
        Assert.Equal(20 * Math.Log10(2), RoleBalance.Level(graph, [2], [0]), 1e-12);
        Assert.Equal(double.NegativeInfinity, RoleBalance.Level(graph, [], [0]));
    }

    private static double Ratio(DeskState state, string of, string over)
    {
        var routing = Load(state);
        return RoleBalance.Ratio(routing.Graph, Nodes(of), Nodes(over), Columns("fills"), Columns("room"));
    }

    private static int[] Nodes(string role) => [.. Plan.Strips.Where(strip => strip.Role == role).Select(strip => Map.NodeOf(strip.Strip.Id))];
}
