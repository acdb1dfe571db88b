using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>What somebody may move in soundcheck and show without comment.</summary>
/// <param name="Who">Who, in the plan's own words.</param>
/// <param name="What">Feeds, settings and setting classes, as written.</param>
public sealed record HandsOnLine(ScalarNode Who, IReadOnlyList<ScalarNode> What)
{
    /// <summary>Reads <c>hands-on: { musicians: [ears-a, ears-b], mix position: [input fader, eq] }</c>.</summary>
    internal static List<HandsOnLine> Read(MapNode? map, DiagnosticBag diagnostics)
    {
        var lines = new List<HandsOnLine>();
        foreach (var (who, value) in map?.Entries ?? [])
        {
            var what = new List<ScalarNode>();
            foreach (var item in value is ListNode list ? list.Items : [value])
            {
                if (item is ScalarNode scalar)
                    what.Add(scalar);
                else
                    diagnostics.Add(DocumentCodes.WrongShape, item.At, $"what {who.Text} may move holds {item.Shape}", "write a list of feeds, settings and classes: [ears-a, input fader, eq]");
            }

            lines.Add(new HandsOnLine(who, what));
        }

        return lines;
    }
}
