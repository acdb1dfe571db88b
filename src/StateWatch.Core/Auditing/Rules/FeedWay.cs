using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>One planned way straight into a bus of a public feed.</summary>
/// <param name="On">Its switch.</param>
/// <param name="Level">Its level, or -1.</param>
internal readonly record struct FeedWay(int On, int Level)
{
    /// <summary>Its settings.</summary>
    public int[] Settings => Level >= 0 ? [On, Level] : [On];

    /// <summary>Whether it lets nothing through.</summary>
    public bool IsShut(DeskState state) => Shut.Is(state[On]) || (Level >= 0 && Shut.Is(state[Level]));
}

/// <summary>The planned ways straight into the buses of public feeds.</summary>
internal static class FeedWays
{
    /// <summary>Those of each bus, in the order of the plan's expectations.</summary>
    public static Dictionary<string, List<FeedWay>> Of(AuditFacts facts)
    {
        var ways = new Dictionary<string, List<FeedWay>>(StringComparer.Ordinal);
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            if (!expectation.Planned.IsOn || setting.Kind.StripKind == "desk" || EdgePaths.BusOf(setting) is not { } bus || facts.FeedOf(bus) is not { } owner || !owner.Feed.Purpose.IsPublic())
                continue;
            var level = EdgePaths.LevelOf(facts.Profile, setting);
            if (facts.Plan.For(level) is { } planned && Shut.Is(planned.Planned))
                continue;
            if (!ways.TryGetValue(bus, out var list))
                ways.Add(bus, list = []);
            list.Add(new FeedWay(setting.Id, level));
        }

        return ways;
    }
}
