using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing;

/// <summary>Where a state lies, seen from the edge of what a check allows.</summary>
/// <param name="IsAtEdge">Of a check that is kept: it lies near the edge, where a drift is not yet over.</param>
/// <param name="Band">Of one that is violated: how many tolerances beyond the first, from zero.</param>
public readonly record struct EdgeDistance(bool IsAtEdge, int Band)
{
    /// <summary>That of an expectation.</summary>
    internal static EdgeDistance Of(Expectation expectation, DeskState state, bool isViolated)
    {
        var live = state[expectation.Setting];
        return isViolated ? new EdgeDistance(false, expectation.BandOf(live)) : new EdgeDistance(expectation.Allows(live) && !expectation.IsWellInside(live), 0);
    }
}
