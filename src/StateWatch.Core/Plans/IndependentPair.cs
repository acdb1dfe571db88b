using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A feed that another one must not move: not by its buses, and not by what moves its buses.</summary>
/// <param name="Feed">The feed that must stay.</param>
/// <param name="Of">The feed that must not move it.</param>
/// <param name="At">The plan line that says so.</param>
public sealed record IndependentPair(Feed Feed, Feed Of, Origin At)
{
    /// <summary>What the plan says: <c>independent-of: room</c>.</summary>
    public string Said => $"independent-of: {Of.Key}";
}
