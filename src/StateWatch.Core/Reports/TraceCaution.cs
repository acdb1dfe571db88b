using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>What to bring down before anything is opened: sudden level can injure hearing.</summary>
internal static class TraceCaution
{
    /// <summary>The sentence.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="map">Its signal flow.</param>
    /// <param name="from">The source.</param>
    /// <param name="to">The feed.</param>
    /// <param name="first">The way's first step, or null when it is not known.</param>
    /// <param name="changed">The settings to change.</param>
    public static string First(ShowPlan plan, RoutingMap map, TraceSource from, TraceTarget to, WayStep? first, IEnumerable<int> changed)
    {
        // What opens a bus opens it for everybody on it.
        var buses = changed.Select(setting => plan.Profile.Settings[setting]).Where(setting => setting.Kind.Suffix == "on" && setting.Kind.StripKind != "output").Select(setting => plan.Profile.Strips[setting.Strip].Path)
            .Where(path => path != from.Path && plan.Profile.Find($"{path}/fader") >= 0).Distinct().Select(path => TraceWords.Strip(plan, path)).ToList();
        var too = buses.Count == 0 ? "" : $", and the fader of {string.Join(", ", buses)}";
        var ears = to.Feed.Purpose == Purpose.InEars ? "In-ears out. " : "";
        var name = TraceWords.Strip(plan, from.Path);
        if (first is null || first.Stages.Any(stage => stage.Kind == StageKind.Fader))
            return $"{ears}Fader down first: {name}{too}.";
        var edge = map.Edges[first.Edge];
        var level = edge.Kind == EdgeKind.Send ? edge.Level : -1;
        if (level < 0)
            return $"{ears}Fader down first: {name} has none that acts on this way, so bring down {string.Join(", ", to.Feed.Buses.Select(bus => TraceWords.Strip(plan, bus)))}.";
        return $"{ears}Fader down first, here its send's: the way leaves {name} before its fader, which does not act. Bring down {TraceWords.Setting(plan, level)}{too}.";
    }
}
