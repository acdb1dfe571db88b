using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

public class WayFinderTests
{
    [Fact]
    public void The_ways_of_every_pair_add_up_to_its_gains_and_their_stages_to_each_way()
    {
        var (map, state) = (DemoRouting.Map, DemoRouting.PlannedDesk());
        var routing = DemoRouting.Load(state);
        var stages = new StageReader(routing, state);
        var finder = new WayFinder(routing);
        var several = 0;
        foreach (var strip in map.Strips)
        {
            for (var column = 0; column < map.Terminals.Count; column++)
            {
                var ways = finder.Find(strip.Nodes[0], [column], stages);
                Assert.False(finder.Capped);
                Assert.Equal(routing.Graph.Total(strip.Nodes[0])[column], ways.Sum(way => Math.Abs(way.Gain)), 1e-12 * Math.Max(1, routing.Graph.Total(strip.Nodes[0])[column]));
                Assert.Equal(routing.Graph.Signed(strip.Nodes[0])[column], ways.Sum(way => way.Gain), 1e-12 * Math.Max(1, routing.Graph.Total(strip.Nodes[0])[column]));
                several += ways.Count > 1 ? 1 : 0;
                foreach (var way in ways)
                {
                    // What people read, stage by stage, is the same number.
                    var level = way.Steps.SelectMany(step => step.Stages).Sum(stage => stage.Level);
                    Assert.Equal(20 * Math.Log10(Math.Abs(way.Gain)), level, 1e-9);
                }
            }
        }

        Assert.True(several > 20, $"{several} pairs with several ways");
    }
}
