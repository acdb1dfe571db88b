using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

/// <summary>The signal flow of the demo show in the show phase.</summary>
internal static class DemoRouting
{
    public static ShowPlan Plan { get; } = DemoShow.Plan(Phase.Show);

    public static RoutingMap Map { get; } = RoutingMap.Of(DemoShow.Profile, Plan);

    /// <summary>A desk as planned, everything planned open.</summary>
    public static DeskState PlannedDesk()
    {
        var state = DemoShow.CleanDesk();
        foreach (var (setting, value) in PlannedState.Of(Plan))
            state.Apply(setting, value);
        return state;
    }

    public static DeskRouting Load(DeskState state, DeskBehaviour? behaviour = null)
    {
        var routing = new DeskRouting(Map, behaviour ?? DeskBehaviour.Usual);
        routing.Load(state);
        return routing;
    }

    public static int Node(string strip) => Map.NodeOf(DemoShow.Profile.FindStrip(strip)!.Id);

    public static int[] Columns(string feed) => [.. Map.ColumnsOf(Plan.Feeds.Select((item, number) => (item.Key, number)).First(item => item.Key == feed).number)];
}
