namespace StateWatch.Core.Documents;

/// <summary>Checks the <c>format:</c> line that every file of ours begins with.</summary>
public static class FormatLine
{
    /// <summary>Every format that is read, for suggestions.</summary>
    public static IReadOnlyList<string> Known { get; } = ["statewatch/desk/1", "statewatch/show/1", "statewatch/incidents/1"];

    /// <summary>Whether the file is of the wanted format; a diagnostic otherwise.</summary>
    public static bool Check(MapNode root, string wanted, DiagnosticBag diagnostics)
    {
        var node = root.Find("format");
        if (node is ScalarNode scalar && scalar.Text == wanted)
            return true;
        if (node is null)
        {
            diagnostics.Add(DocumentCodes.MissingKey, root.At, "'format' is missing, so this may be any kind of file", $"begin with 'format: {wanted}'");
            return false;
        }

        var text = (node as ScalarNode)?.Text ?? node.Shape;
        var family = wanted[..(wanted.LastIndexOf('/') + 1)];
        var advice = text.StartsWith(family, StringComparison.Ordinal)
            ? $"this program reads {wanted}; a newer file needs a newer program"
            : Known.Contains(text) ? $"this is another kind of file; {wanted} is needed here" : $"write 'format: {wanted}'";
        diagnostics.Add(DocumentCodes.WrongFormat, node.At, $"the format is '{text}', not '{wanted}'", advice, Known.Contains(text) ? null : wanted);
        return false;
    }
}
