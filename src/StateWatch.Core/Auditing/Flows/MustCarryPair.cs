using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>A source, or a set of which any one will do, and the feed at which it must arrive.</summary>
/// <param name="Feed">The feed.</param>
/// <param name="Sources">The source, or all of the set.</param>
internal sealed record MustCarryPair(Feed Feed, List<MustCarrySource> Sources);

/// <summary>One strip on its way to a feed.</summary>
/// <param name="Strip">The strip.</param>
/// <param name="Node">Its node.</param>
/// <param name="Columns">The feed's columns.</param>
/// <param name="Planned">Sum of all planned ways, over the columns.</param>
/// <param name="Ways">The ways as planned.</param>
internal sealed record MustCarrySource(PlannedStrip Strip, int Node, int[] Columns, double Planned, Way[] Ways);
