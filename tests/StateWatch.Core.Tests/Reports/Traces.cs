using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Reports;

/// <summary>Traces of the demo show, by name.</summary>
internal static class Traces
{
    private static readonly DateTimeOffset At = new(2026, 12, 20, 9, 41, 7, 120, TimeSpan.Zero);

    // Name, source, feed, and what somebody did to the desk.
    private static readonly Dictionary<string, (string? From, string? To, string[] Changes)> Cases = new(StringComparer.Ordinal)
    {
        ["as-planned"] = ("Lectern", "room", []),
        ["muted"] = ("Lectern", "room", ["group/1/on: off", "mute-group/2/active: on"]),
        ["two-ways"] = ("Kick", "room", []),
        ["pre-fader-wedge"] = ("Vocal 1", "wedges 2", ["input/15/fader: -inf dB"]),
        ["pre-fader-wedge-muted"] = ("Vocal 1", "wedges 2", ["input/15/send/mix/2/on: off"]),
        ["never"] = ("Click", "room", []),
        ["patch"] = ("Vocal 1", "ears-a", ["output/stage-9/source: none", "output/stage-10/source: none"]),
        ["wrong-source"] = ("Choir 4", "stream", ["input/20/source: stage 1"]),
        ["ears-shut"] = ("Bass", "ears-a", ["mix/5/on: off", "mix/6/on: off"]),
        ["one-side"] = ("Choir 1", "stream", ["matrix/2/on: off"]),
        ["too-much"] = ("Vocal 1", "overflow",
        [
            "input/15/on: off", "input/15/fader: -inf dB", "input/15/assign/group/3: off", "input/15/send/mix/13/on: off", "input/15/send/mix/14/on: off", "dca/3/on: off", "dca/3/fader: -inf dB", "mute-group/1/active: on",
            "group/3/on: off", "group/3/fader: -inf dB", "group/3/assign/main/1: off", "main/1/on: off", "mix/13/on: off", "mix/13/fader: -inf dB", "mix/14/on: off", "mix/14/fader: -inf dB", "fx-return/1/on: off",
            "fx-return/2/on: off", "dca/7/on: off", "dca/7/fader: -inf dB", "matrix/5/on: off", "matrix/5/fader: -inf dB", "output/local-3/on: off",
        ]),
        ["faint"] = ("Vocal 1", "wedges 2", ["mix/2/fader: -70 dB"]),
        ["howl"] = ("Vocal 1", "room", ["fx-return/1/send/mix/13/on: on", "fx-return/1/send/mix/13/level: 5 dB", "fx-return/1/send/mix/13/tap: post-fader"]),
        ["talk"] = ("talk 1", "ears-a", []),
        ["reach"] = ("Lectern", null, []),
        ["feeding"] = (null, "stream", ["matrix/3/on: off"]),
    };

    public static RoutingMap Map { get; } = RoutingMap.Of(DemoShow.Profile, DemoShow.Plan(Phase.Show));

    public static ShowPlan Plan { get; } = DemoShow.Plan(Phase.Show);

    public static TraceNames Names { get; } = new(Plan, Map);

    public static TheoryData<string> All => [.. Cases.Keys];

    public static TraceResult Of(string name) => Of(Cases[name].From, Cases[name].To, name == "as-planned" ? null : Cases[name].Changes, []);

    /// <summary>A trace of a desk that is as planned but for changes; without changes, from the plan itself.</summary>
    public static TraceResult Of(string? from, string? to, string[]? changes, string[] unseen)
    {
        var source = from is null ? null : Assert.IsType<TraceSource>(Names.Source(from, out _));
        var target = to is null ? null : Assert.IsType<TraceTarget>(Names.Target(to, out _));
        if (changes is null)
            return new Trace(new TraceSubject(Plan, TraceOrigin.Plan, null, At), Map, source, target).AsPlanned();
        var state = Desk();
        foreach (var change in changes)
            state.Set(change[..change.IndexOf(':', StringComparison.Ordinal)], change[(change.IndexOf(' ', StringComparison.Ordinal) + 1)..]);
        foreach (var path in unseen)
            state.MarkUnseen(DemoShow.Profile.Find(path), UnseenReason.NoReply);
        return new Trace(new TraceSubject(Plan, TraceOrigin.Desk, "192.0.2.48:9048", At), Map, source, target)
            .Of(state, new ReadReport(unseen.Length == 0 ? ReadEnd.Complete : ReadEnd.Partial, 1, 1, 1, TimeSpan.Zero, []));
    }

    public static DeskState Desk()
    {
        var state = DemoShow.PlannedDesk(Plan);
        foreach (var (setting, value) in PlannedState.Of(Plan))
            state.Apply(setting, value);
        return state;
    }

    public static DeskRouting Flow(DeskState state)
    {
        var routing = new DeskRouting(Map, DeskBehaviour.Usual);
        routing.Load(state);
        return routing;
    }
}
