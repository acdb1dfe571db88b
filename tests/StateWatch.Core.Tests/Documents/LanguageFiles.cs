using System.Text.RegularExpressions;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Files made from the tables: for every key the smallest file that holds it, with the value of its example.</summary>
internal static class LanguageFiles
{
    // A key for mappings whose keys are the writer's own: the first that fits.
    private static readonly string[] OwnKeys = ["1", "desk/oscillator", "stage", "x"];

    private static readonly Lazy<PlanDocument> Midwinter = new(static () => PlanReader.Read(new SourceText("midwinter.plan.yaml", DemoShow.PlanText), new DiagnosticBag())!);

    public static IReadOnlyList<(string Kind, KeyTable Root)> Roots { get; } = [("plan", PlanKeys.Root), ("desk", ProfileKeys.Root), ("incidents", IncidentKeys.Root), ("scenario", ScenarioKeys.Root)];

    /// <summary>Every table that a file of the kind can hold, each with a way to put a mapping of it into the smallest file.</summary>
    public static IReadOnlyList<(KeyTable Table, IReadOnlyList<string> Also, Func<string, string> Around)> Tables(KeyTable root)
    {
        var found = new List<(KeyTable, IReadOnlyList<string>, Func<string, string>)>();
        Walk(new TableShape(root), inner => inner, found);
        return found;
    }

    /// <summary>A mapping with its required keys and one more, which has the given value.</summary>
    public static string Mapping(KeyTable table, IReadOnlyList<string> also, string key, string value)
    {
        var rows = table.Rows.ToArray().Where(row => row.Key != key && (row.Required || also.Contains(row.Key))).Select(row => $"{row.Key}: {row.Example}");
        return $"{{ {string.Join(", ", [.. rows, $"{key}: {value}"])} }}";
    }

    public static IReadOnlyList<Diagnostic> Read(string kind, string text)
    {
        var diagnostics = new DiagnosticBag();
        var source = new SourceText($"x.{kind}.yaml", text);
        switch (kind)
        {
            case "desk":
                _ = ProfileReader.Read(source, diagnostics);
                break;
            case "incidents":
                _ = IncidentReader.Read(source, DemoShow.Profile, diagnostics);
                break;
            case "scenario":
                _ = ScenarioReader.Read(source, Midwinter.Value, DemoShow.Profile, diagnostics);
                break;
            default:
                if (PlanReader.Read(source, diagnostics, _ => new SourceText("below.plan.yaml", "format: statewatch/show/1\nshow: A\ndesk: b\n")) is { } plan)
                    _ = PlanCompiler.Compile(plan, DemoShow.Profile, Phase.Doors, diagnostics);
                break;
        }

        return diagnostics.Items;
    }

    private static void Walk(ValueShape shape, Func<string, string> around, List<(KeyTable, IReadOnlyList<string>, Func<string, string>)> found)
    {
        switch (shape)
        {
            case TableShape { Table: var table, Also: var also }:
                found.Add((table, also, around));
                foreach (var row in table.Rows)
                    Walk(row.Shape, inner => around(Mapping(table, also, row.Key, inner)), found);
                break;
            case MapShape map:
                Walk(map.Value, inner => around($"{{ {KeyFor(map.Key)}: {inner} }}"), found);
                if (map.Telling is { } telling)
                    Walk(telling.Value, inner => around($"{{ {telling.Keys[0]}: {inner} }}"), found);
                break;
            case ListShape list:
                Walk(list.Item, inner => around($"[{inner}]"), found);
                break;
            case SettingsShape { Other: { } other }:
                Walk(other, inner => around($"{{ input/9/low-cut: {inner} }}"), found);
                break;
            case EitherShape either:
                foreach (var one in either.Shapes)
                    Walk(one, around, found);
                break;
        }
    }

    private static string KeyFor(ValueShape shape) => shape switch
    {
        WordShape words => words.Words[0],
        TextShape { Pattern: { } pattern } => OwnKeys.First(key => Regex.IsMatch(key, pattern, RegexOptions.NonBacktracking)),
        _ => OwnKeys[0],
    };
}
