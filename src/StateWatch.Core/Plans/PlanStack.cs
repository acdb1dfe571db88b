using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// A plan and the plans below it: <c>extends: weekly.plan.yaml</c> makes a small plan for this week lie over the one for every week.
/// </summary>
internal static class PlanStack
{
    /// <summary>The longest chain of plans.</summary>
    public const int Most = 8;

    public static MapNode? Read(SourceText source, DiagnosticBag diagnostics, Func<ScalarNode, SourceText?>? open)
    {
        var layers = new List<MapNode>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var nodes = 0;
        for (SourceText? file = source; file is not null;)
        {
            seen.Add(file.Name);
            var layer = YamlText.Read(file, diagnostics, ref nodes);
            if (layer is null || !FormatLine.Check(layer, PlanReader.Format, diagnostics))
                return null;
            layers.Add(layer);
            if (layer.Find("extends") is not { } below)
                break;
            file = Open(below, seen, diagnostics, open);
            if (file is null)
                return null;
        }

        var root = layers[^1];
        for (var i = layers.Count - 2; i >= 0; i--)
            root = MapOverlay.Lay(root, layers[i]);
        return root;
    }

    private static SourceText? Open(Node below, HashSet<string> seen, DiagnosticBag diagnostics, Func<ScalarNode, SourceText?>? open)
    {
        if (below is not ScalarNode path)
        {
            diagnostics.Add(DocumentCodes.WrongShape, below.At, $"'extends' holds {below.Shape}, but a single value belongs here", "write extends: weekly.plan.yaml");
            return null;
        }

        if (open is null || seen.Count >= Most)
        {
            diagnostics.Add(PlanCodes.CannotExtend, path.At, open is null ? "plans cannot extend others here" : $"more than {Most} plans lie over each other", "put what belongs together into one plan");
            return null;
        }

        var file = open(path);
        if (file is null || !seen.Contains(file.Name))
            return file;
        diagnostics.Add(PlanCodes.CannotExtend, path.At, $"'{path.Text}' leads back to a plan that already lies above it", "extend another plan, or leave the line out");
        return null;
    }
}
