using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Reads the plan's <c>waivers:</c>: shapes and dates only, no desk needed.</summary>
internal static class WaiverReader
{
    private const string Example = "low-cut-off:input/12/low-cut";

    public static List<WaiverLine> Read(IReadOnlyList<Node>? items, DiagnosticBag diagnostics)
    {
        var lines = new List<WaiverLine>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var item in items ?? [])
        {
            if (item is not MapNode map)
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a waiver is {item.Shape}, but a mapping belongs here", $"write {{ finding: {Example}, owner: …, why: …, until: 2026-12-31 }}");
            else if (ReadOne(map, diagnostics) is not { } line)
                continue;
            else if (seen.Add(line.Finding.Text))
                lines.Add(line);
            else
                diagnostics.Add(PlanCodes.WaiverTwice, line.Finding.At, $"'{line.Finding.Text}' is already waived at {lines.First(one => one.Finding.Text == line.Finding.Text).Finding.At.Place}", "keep one of them");
        }

        return lines;
    }

    private static WaiverLine? ReadOne(MapNode map, DiagnosticBag diagnostics)
    {
        var reader = new MapReader(map, PlanKeys.Waiver, diagnostics);
        var finding = reader.RequireScalar("finding");
        var owner = Words(reader, "owner", diagnostics);
        var why = Words(reader, "why", diagnostics);
        var until = reader.RequireScalar("until");
        reader.Finish();
        var colon = finding?.Text.IndexOf(':', StringComparison.Ordinal) ?? 1;
        if (colon <= 0 || colon == finding?.Text.Length - 1)
        {
            diagnostics.Add(DocumentCodes.BadValue, finding!.At, $"'{finding.Text}' is not the id of a finding", $"copy the id from a sweep's report: rule:setting, such as {Example}");
            finding = null;
        }

        if (until is null)
            return null;
        if (!DateOnly.TryParseExact(until.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            diagnostics.Add(DocumentCodes.BadValue, until.At, $"'{until.Text}' is not a day", "write year-month-day, such as 2026-12-31: the last day this waiver counts");
            return null;
        }

        return finding is null || owner is null || why is null ? null : new WaiverLine(finding, owner, why, day, until.At);
    }

    private static string? Words(MapReader reader, string key, DiagnosticBag diagnostics)
    {
        var scalar = reader.RequireScalar(key);
        if (scalar is null || !string.IsNullOrWhiteSpace(scalar.Text))
            return scalar?.Text.Trim();
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{key}' is empty", $"write it in words, such as {key}: {reader.Table[key].Example}");
        return null;
    }
}
