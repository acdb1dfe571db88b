using StateWatch.Core.Desks;
using StateWatch.Core.Routing;
using static StateWatch.Core.Tests.Routing.DemoRouting;

namespace StateWatch.Core.Tests.Routing;

public class DependenceTests
{
    [Fact] // The stream of the demo is fed from groups: closing the room must not reach the people at home.
    public void The_stream_passes_no_strip_of_the_room_and_the_overflow_does()
    {
        var state = PlannedDesk();
        var routing = Load(state);
        var room = DemoShow.Profile.FindStrip("main/1")!.Id;
        Assert.False(Dependence.Of(routing, state, Columns("stream")).Passes(room));
        Assert.True(Dependence.Of(routing, state, Columns("overflow")).Passes(room));
        Assert.True(Dependence.Of(routing, state, Columns("fills")).Passes(room));
    }

    private static string Sum(DeskRouting routing, IReadOnlyList<int> columns, DeskState state)
    {
        routing.Update(state);
        // Every gain of every input, to the last bit: what any of them hears must not move.
        return string.Join(' ', Map.Strips.Where(strip => DemoShow.Profile.Strips[strip.Strip].Kind == "input")
            .SelectMany(strip => columns.Select(column => BitConverter.DoubleToInt64Bits(routing.Graph.Total(strip.Nodes[0])[column]))));
    }
}
