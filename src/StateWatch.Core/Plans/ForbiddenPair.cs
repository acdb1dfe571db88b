using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A strip that must not arrive at a feed, by whatever way.</summary>
/// <param name="Strip">The strip.</param>
/// <param name="Feed">The feed.</param>
/// <param name="Said">What the plan says: <c>never: audience</c>.</param>
/// <param name="At">The plan line that says so.</param>
public sealed record ForbiddenPair(PlannedStrip Strip, Feed Feed, string Said, Origin At);
