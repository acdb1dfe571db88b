using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Which bus an assign, send or talk route leads to.</summary>
public static class EdgePaths
{
    /// <summary>The bus of an on/off edge, such as <c>mix/3</c>, or null when the setting is no such edge.</summary>
    public static string? BusOf(Setting setting)
    {
        var path = setting.Path;
        switch (setting.Kind.Suffix)
        {
            case "assign/<bus>/#":
                return path[(path.LastIndexOf("/assign/", StringComparison.Ordinal) + "/assign/".Length)..];
            case "send/<bus>/#/on":
                return path[(path.LastIndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..^"/on".Length];
            case "talk/#/to/<bus>-#":
                var bus = path[(path.LastIndexOf('/') + 1)..];
                var dash = bus.LastIndexOf('-');
                return $"{bus[..dash]}/{bus[(dash + 1)..]}";
            default:
                return null;
        }
    }

    /// <summary>Where an expectation lets a signal go: the bus of an edge that is planned on, the output of a planned direct out; null when it lets nothing go anywhere.</summary>
    internal static string? PlannedEnd(ShowPlan plan, Expectation expectation)
    {
        var setting = plan.Profile.Settings[expectation.Setting];
        if (setting.Kind.Suffix == "direct-out")
            return plan.Profile.Format(expectation.Planned) is var place && place != "none" ? $"output/{place.Replace(' ', '-')}" : null;
        return expectation.Planned.IsOn ? BusOf(setting) : null;
    }

    /// <summary>The level of a send whose switch this is, or -1 when the setting is no send switch or the profile sees no level.</summary>
    /// <param name="profile">The desk.</param>
    /// <param name="edge">The switch, such as <c>input/12/send/mix/3/on</c>.</param>
    public static int LevelOf(DeskProfile profile, Setting edge) =>
        edge.Kind.Suffix == "send/<bus>/#/on" ? profile.Find(edge.Path[..^"on".Length] + "level") : -1;
}
