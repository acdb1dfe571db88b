using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Reads what a plan leaves to the eye: the sentences under <c>by-eye:</c>, and settings written <c>{ be: on, by-eye: true }</c>.</summary>
internal static class ByEyeReader
{
    private const string Example = "Wedge amplifiers are on";

    public static List<ByEyeLine> Read(IReadOnlyList<Node>? items, DiagnosticBag diagnostics)
    {
        var lines = new List<ByEyeLine>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var item in items ?? [])
        {
            if (ReadOne(item, diagnostics) is not { } line)
                continue;
            if (seen.Add(line.Text))
                lines.Add(line);
            else
                diagnostics.Add(PlanCodes.Redundant, line.At, $"'{line.Text}' is already on the list", "leave it out");
        }

        return lines;
    }

    /// <summary>Parts the settings that are left to the eye from those the desk is asked for.</summary>
    public static (List<MapEntry> Asked, List<ByEyeSetting> ByEye) Part(IReadOnlyList<MapEntry> entries, DiagnosticBag diagnostics)
    {
        var (asked, byEye) = (new List<MapEntry>(entries.Count), new List<ByEyeSetting>());
        foreach (var entry in entries)
        {
            if (entry.Value is not MapNode map || (map.Find("by-eye") is null && map.Find("be") is null))
            {
                asked.Add(entry);
                continue;
            }

            var reader = new MapReader(map, PlanKeys.ByEyeSetting, diagnostics);
            var be = Words(reader.RequireScalar("be"), "be", "on", diagnostics);
            var isByEye = reader.Flag("by-eye");
            reader.Finish();
            if (!isByEye)
                diagnostics.Add(DocumentCodes.WrongShape, map.At, $"'{entry.Key.Text}' is a mapping without by-eye: true", $"write {entry.Key.Text}: {be?.Text ?? "on"}, or add by-eye: true for what no desk can tell");
            else if (be is not null)
                byEye.Add(new ByEyeSetting(entry.Key, be));
        }

        return (asked, byEye);
    }

    private static ByEyeLine? ReadOne(Node item, DiagnosticBag diagnostics)
    {
        if (item is not MapNode map)
        {
            if (item is not ScalarNode)
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a line of by-eye is {item.Shape}", $"write a sentence, such as {Example}");
            return Words(item as ScalarNode, "by-eye", Example, diagnostics) is { } sentence ? new ByEyeLine(sentence.Text.Trim(), null, sentence.At) : null;
        }

        var reader = new MapReader(map, PlanKeys.ByEyeLine, diagnostics);
        var look = Words(reader.RequireScalar("look"), "look", Example, diagnostics);
        var where = Words(reader.Scalar("where"), "where", "stage left", diagnostics);
        reader.Finish();
        return look is null ? null : new ByEyeLine(look.Text.Trim(), where?.Text.Trim(), look.At);
    }

    private static ScalarNode? Words(ScalarNode? scalar, string key, string example, DiagnosticBag diagnostics)
    {
        if (scalar is null || !string.IsNullOrWhiteSpace(scalar.Text))
            return scalar;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{key}' is empty", $"write it in words, such as {example}");
        return null;
    }
}
