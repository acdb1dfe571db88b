using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>What people order waits in its order; of what messages and schedules order only the last phase and its cue do.</summary>
public sealed class WaitingOrdersTests
{
    [Fact]
    public void A_night_of_messages_leaves_the_last_phase_and_the_last_cue_behind_it()
    {
        var orders = new WaitingOrders();
        for (var i = 0; i < 100_000; i++)
        {
            orders.Add(new PhaseOrder(Phase.Doors, MessageOrders.By));
            orders.Add(new CueOrder("storm", MessageOrders.By));
            orders.Add(new PhaseOrder(Phase.Show, ScheduledChange.By));
            orders.Add(new CueOrder("calm", MessageOrders.By));
            orders.Add(new CueOrder("ferry", MessageOrders.By));
        }

        Assert.Equal([new PhaseOrder(Phase.Show, ScheduledChange.By), new CueOrder("ferry", MessageOrders.By)], All(orders));
    }

    [Fact]
    public void What_people_and_sinks_say_waits_whole_and_in_order()
    {
        WatchOrder[] said = [new PhaseOrder(Phase.Doors, "Kim"), new AcknowledgeOrder("x", "Kim"), new CueOrder("storm", "Kim"), new SinkOrder("lamp", true, false), new PhaseOrder(Phase.Show, "Kim")];
        var orders = new WaitingOrders();
        foreach (var order in said)
            orders.Add(order);
        orders.Add(new PhaseOrder(Phase.Build, MessageOrders.By));
        Assert.Equal([.. said, new PhaseOrder(Phase.Build, MessageOrders.By)], All(orders));
    }

    private static List<WatchOrder> All(WaitingOrders orders)
    {
        var all = new List<WatchOrder>();
        while (orders.Take() is { } order)
            all.Add(order);
        return all;
    }
}
