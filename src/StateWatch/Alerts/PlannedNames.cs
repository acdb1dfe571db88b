using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts;

/// <summary>
/// All names that plans give to strips, also those of plans that were replaced: texts that were written by them may still wait to be sent. From any thread.
/// </summary>
internal sealed class PlannedNames
{
    private readonly Lock _gate = new();
    private readonly HashSet<PlannedName> _names = [];
    private IReadOnlyList<WatchedPlan> _seen = [];
    private PlannedName[] _all = [];

    /// <summary>Adds those of the plans that hold now, and gives all.</summary>
    public IReadOnlyCollection<PlannedName> With(IReadOnlyList<WatchedPlan> plans)
    {
        lock (_gate)
        {
            if (_seen.SequenceEqual(plans))
                return _all;
            foreach (var plan in plans.Except(_seen))
                _names.UnionWith(Of(plan));
            (_seen, _all) = (plans, [.. _names]);
            return _all;
        }
    }

    // No phase or cue renames a strip. All of them were compiled when the plan was read, so this only looks.
    private static IEnumerable<PlannedName> Of(WatchedPlan plan) => plan.For(Phase.Show, null).Strips.Select(static strip => new PlannedName(strip.Name, strip.Strip.Path));
}
