using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A ratio with what its names stand for.</summary>
/// <param name="Line">The line.</param>
/// <param name="At">The feed.</param>
/// <param name="Buses">Those of its buses that are meant, as paths such as <c>mix/3</c>.</param>
/// <param name="Of">The inputs that are held over the others.</param>
/// <param name="Over">The others.</param>
/// <param name="Against">The feed it is compared with.</param>
public sealed record PlannedRatio(RatioLine Line, Feed At, IReadOnlyList<string> Buses, IReadOnlyList<PlannedStrip> Of, IReadOnlyList<PlannedStrip> Over, Feed Against)
{
    /// <summary>What findings and waivers call it: <c>talker>band>fills>room</c>.</summary>
    public string Subject => $"{Line.Of.Text}>{Line.Over.Text}>{Line.At.Text}>{Against.Key}";

    /// <summary>Finds what the ratios of a plan stand for; unknown names are told.</summary>
    internal static List<PlannedRatio> Resolve(PlanDocument document, IReadOnlyList<PlannedStrip> strips, PlanNames names, DiagnosticBag diagnostics)
    {
        var ratios = new List<PlannedRatio>();
        var seen = new Dictionary<string, RatioLine>(StringComparer.Ordinal);
        foreach (var line in document.Ratios)
        {
            var buses = names.Buses(line.At, out var at, out _);
            var (of, over) = (Strips(document, strips, names, line.Of), Strips(document, strips, names, line.Over));
            if (at is null || buses.Count == 0 || of is null || over is null || Reference(line, names, diagnostics) is not { } against)
                continue;
            if (line.Of.Text == line.Over.Text)
                diagnostics.Add(DocumentCodes.BadValue, line.Over.At, $"'{line.Over.Text}' is compared with itself", "write another role or input");
            else if (against == at)
                diagnostics.Add(DocumentCodes.BadValue, line.Against?.At ?? line.At.At, $"'{at.Key}' is compared with itself", "write another feed under at: or against:");
            else if (new PlannedRatio(line, at, buses, of, over, against) is var ratio && seen.TryAdd(ratio.Subject, line))
                ratios.Add(ratio);
            else
                diagnostics.Add(PlanCodes.Redundant, line.Place, $"this ratio stands already at {seen[ratio.Subject].Place.Place}", "remove one of the two");
        }

        return ratios;
    }

    private static List<PlannedStrip>? Strips(PlanDocument document, IReadOnlyList<PlannedStrip> strips, PlanNames names, ScalarNode name)
    {
        var isRole = document.Roles.Any(role => role.Key.Text == name.Text);
        var found = strips.Where(strip => strip.Strip.Kind == "input" && (isRole ? strip.Role : strip.Name) == name.Text).ToList();
        if (isRole || found.Count > 0)
            return found;
        names.Unknown(name, "role or input", document.Roles.Select(role => role.Key.Text).Concat(strips.Select(strip => strip.Name)), "write a role, or the name of an input");
        return null;
    }

    private static Feed? Reference(RatioLine line, PlanNames names, DiagnosticBag diagnostics)
    {
        if (line.Against is not null)
            return names.Buses(line.Against, out var against, out _).Count > 0 ? against : null;
        var rooms = names.Feeds.Where(feed => feed.Purpose == Purpose.Room).ToList();
        if (rooms.Count == 1)
            return rooms[0];
        diagnostics.Add(PlanCodes.UnknownName, line.Place, rooms.Count == 0 ? "no feed of this plan is the room, which a ratio is measured against" : $"this plan has {rooms.Count} feeds with the purpose room, and a ratio is measured against one",
            "add against: and the key of a feed");
        return null;
    }
}
