using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>The ways that a plan itself makes: assigns and sends that are planned on, and not planned at -inf; direct outs as far as their output.</summary>
internal sealed class PlannedRoutes
{
    private readonly Dictionary<string, List<(string Bus, Expectation Edge)>> _edges = new(StringComparer.Ordinal);

    public PlannedRoutes(ShowPlan plan)
    {
        foreach (var expectation in plan.Expectations)
        {
            var setting = plan.Profile.Settings[expectation.Setting];
            if (setting.Kind.StripKind == "desk" || EdgePaths.PlannedEnd(plan, expectation) is not { } bus || IsShut(plan, setting))
                continue;
            var strip = plan.Profile.Strips[setting.Strip].Path;
            if (!_edges.TryGetValue(strip, out var edges))
                _edges.Add(strip, edges = []);
            edges.Add((bus, expectation));
        }
    }

    /// <summary>The buses a strip goes to directly, each with the edge that leads there.</summary>
    public IReadOnlyList<(string Bus, Expectation Edge)> EdgesFrom(string strip) => _edges.GetValueOrDefault(strip) ?? [];

    /// <summary>Everything a strip reaches: each bus with the edge that leads into it and the strip or bus before.</summary>
    public Dictionary<string, (string Before, Expectation Edge)> From(string strip)
    {
        var reached = new Dictionary<string, (string, Expectation)>(StringComparer.Ordinal);
        var waiting = new Queue<string>([strip]);
        while (waiting.TryDequeue(out var at))
        {
            foreach (var (bus, edge) in _edges.GetValueOrDefault(at) ?? [])
            {
                if (bus != strip && reached.TryAdd(bus, (at, edge)))
                    waiting.Enqueue(bus);
            }
        }

        return reached;
    }

    private static bool IsShut(ShowPlan plan, Setting edge) =>
        plan.For(EdgePaths.LevelOf(plan.Profile, edge)) is { } level && double.IsNegativeInfinity(level.High.Number);
}
