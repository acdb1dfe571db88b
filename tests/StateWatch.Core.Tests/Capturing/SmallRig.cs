using StateWatch.Core.Capturing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>The signal flow of a small desk, as planned, to be changed by tests.</summary>
internal sealed class SmallRig
{
    public SmallRig(string desk = TansyDesk.Desk)
    {
        var diagnostics = Written.ReadPlan(TansyDesk.PlanLines, out var plan, desk: desk == TansyDesk.Desk ? Tansy : Written.Profile(desk));
        Assert.Equal([], diagnostics.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
        Plan = plan!;
        State = DemoShow.PlannedDesk(Plan);
        foreach (var (setting, value) in PlannedState.Of(Plan))
            State.Apply(setting, value);
        Map = RoutingMap.Of(Plan.Profile, Plan);
    }

    public static DeskProfile Tansy { get; } = Written.Profile(TansyDesk.Desk);

    public ShowPlan Plan { get; }

    public RoutingMap Map { get; }

    public DeskState State { get; }

    public LoopWatch Watch(string microphone = "Lectern", string loudspeaker = "wedges 1")
    {
        var watch = new LoopWatch(Plan, Map, Plan.Microphones.Single(strip => strip.Name == microphone), Plan.Loudspeakers.Single(item => item.Words == loudspeaker));
        watch.Take(State);
        return watch;
    }

    /// <summary>Sets settings, one a line: <c>path = value</c>.</summary>
    public SmallRig With(params string[] lines)
    {
        foreach (var line in lines)
            State.Set(line.Split(" = ")[0], line.Split(" = ")[1]);
        return this;
    }

    public NoiseSample Read(LoopWatch watch) => watch.Meters.Read(State, ReadEnd.Complete);

    public LoopSample Follow(LoopWatch watch, params string[] lines) => With(lines) is { } rig ? watch.Follow(TimeSpan.Zero, rig.State, ReadEnd.Complete) : default;
}
