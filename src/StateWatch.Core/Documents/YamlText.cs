using System.Buffers;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace StateWatch.Core.Documents;

/// <summary>
/// Reads YAML 1.2 into nodes with places, from parser events. Total: any text gives nodes or diagnostics.
/// Anchors, aliases and tags are refused: a plan has roles for what repeats, and every value keeps one place.
/// </summary>
public static class YamlText
{
    /// <summary>The deepest nesting that is read. The parser's cost grows with the square of the depth, so it is cut here.</summary>
    public const int MaxDepth = 64;

    /// <summary>The most values that are read.</summary>
    public const int MaxNodes = 500_000;

    /// <summary>Reads the one document of a file.</summary>
    /// <returns>Its root mapping, or null after a diagnostic.</returns>
    public static MapNode? Read(SourceText source, DiagnosticBag diagnostics)
    {
        if (FindTabIndent(source, diagnostics))
            return null;
        var walker = new Walker(source, diagnostics);
        try
        {
            return walker.ReadDocument();
        }
        catch (YamlException problem)
        {
            var mark = problem.Start;
            diagnostics.Add(DocumentCodes.NotYaml, At(source, mark), Clean(problem.Message),
                "look for a missing colon, bracket or quote on this line or the one before");
            return null;
        }
        catch (WalkRefusedException)
        {
            return null;
        }
    }

    private static Origin At(SourceText source, Mark mark) =>
        new(source.Name, new Place((int)Math.Max(1, mark.Line), (int)Math.Max(1, mark.Column)));

    private static string Clean(string message)
    {
        var end = message.IndexOf("): ", StringComparison.Ordinal);
        var text = message.StartsWith('(') && end > 0 ? message[(end + 3)..] : message;
        return "this is not valid YAML: " + text.TrimEnd('.', ' ').ReplaceLineEndings(" ");
    }

    // The parser reports a tab at 1:1, so the place is found here.
    private static bool FindTabIndent(SourceText source, DiagnosticBag diagnostics)
    {
        var line = 0;
        foreach (var text in source.Text.AsSpan().EnumerateLines())
        {
            line++;
            var indent = text.Length - text.TrimStart(" \t").Length;
            var tab = text[..indent].IndexOf('\t');
            if (tab < 0 || indent == text.Length || text[indent] == '#')
                continue;
            diagnostics.Add(DocumentCodes.TabIndent, new Origin(source.Name, new Place(line, tab + 1)),
                "this line is indented with a tab", "use spaces");
            return true;
        }

        return false;
    }

    private static readonly SearchValues<char> Controls = SearchValues.Create(
        [.. Enumerable.Range(0, 0xA0).Where(code => char.IsControl((char)code) && (char)code is not ('\t' or '\n' or '\r')).Select(code => (char)code)]);

    private sealed class WalkRefusedException : Exception;

    private sealed class Walker(SourceText source, DiagnosticBag diagnostics)
    {
        private readonly Parser _parser = new(new StringReader(source.Text));
        private int _nodes;

        public MapNode? ReadDocument()
        {
            Next();
            Next();
            if (_parser.Current is StreamEnd)
            {
                diagnostics.Add(DocumentCodes.EmptyFile, new Origin(source.Name, new Place(1, 1)), "this file holds no statement",
                    "is this the right file?");
                return null;
            }

            Next();
            var root = ReadNode(0);
            Next();
            Next();
            if (_parser.Current is not StreamEnd)
                Refuse(DocumentCodes.NotInLanguage, "a second document begins here", "put each plan or profile in its own file");
            if (root is MapNode map)
                return map;
            diagnostics.Add(root is ScalarNode { Text: "" } ? DocumentCodes.EmptyFile : DocumentCodes.WrongShape, root.At,
                $"this file holds {root.Shape}, not a mapping of keys to values", "start with a line such as 'format: statewatch/show/1'");
            return null;
        }

        private Node ReadNode(int depth)
        {
            if (depth > MaxDepth)
                Refuse(DocumentCodes.TooDeep, $"this nests deeper than {MaxDepth} levels", "look for brackets that are never closed");
            if (++_nodes > MaxNodes)
                Refuse(DocumentCodes.TooMany, $"this file holds more than {MaxNodes:N0} values", "is this the right file?");
            var current = _parser.Current!;
            var at = At(source, current.Start);
            if (current is AnchorAlias)
                Refuse(DocumentCodes.NotInLanguage, "aliases (*name) are not part of the language", "write the value out, or use a role");
            if (current is NodeEvent { Anchor.IsEmpty: false })
                Refuse(DocumentCodes.NotInLanguage, "anchors (&name) are not part of the language", "write the value out, or use a role");
            if (current is NodeEvent { Tag.IsEmpty: false } tagged && !(tagged is Scalar { Tag.IsNonSpecific: true }))
                Refuse(DocumentCodes.NotInLanguage, "tags (!name) are not part of the language", "leave the tag out");
            switch (current)
            {
                case Scalar scalar:
                    // In a terminal or a desk's display they could do anything.
                    if (scalar.Value.AsSpan().IndexOfAny(Controls) is >= 0 and var control)
                        Refuse(DocumentCodes.NotInLanguage, $"this value holds the control character U+{(int)scalar.Value[control]:X4}", "leave it out");
                    return new ScalarNode(at, scalar.Value, scalar.Style == ScalarStyle.Plain);
                case SequenceStart:
                    return ReadList(at, depth);
                case MappingStart:
                    return ReadMap(at, depth);
                default:
                    Refuse(DocumentCodes.NotYaml, "something unexpected stands here", null);
                    return null!;
            }
        }

        private ListNode ReadList(Origin at, int depth)
        {
            var items = new List<Node>();
            for (Next(); _parser.Current is not SequenceEnd; Next())
                items.Add(ReadNode(depth + 1));
            return new ListNode(at, items);
        }

        private MapNode ReadMap(Origin at, int depth)
        {
            var entries = new List<MapEntry>();
            var seen = new Dictionary<string, Origin>(StringComparer.Ordinal);
            for (Next(); _parser.Current is not MappingEnd; Next())
            {
                var key = ReadNode(depth + 1);
                Next();
                var value = ReadNode(depth + 1);
                if (key is not ScalarNode word)
                    diagnostics.Add(DocumentCodes.WrongShape, key.At, $"a key is a single word or number, not {key.Shape}",
                        "put quotes around a key that begins with a bracket");
                else if (!seen.TryAdd(word.Text, word.At))
                    diagnostics.Add(DocumentCodes.DuplicateKey, word.At,
                        $"'{word.Text}' stands here a second time; the first is at {seen[word.Text].Place}", "keep one of the two");
                else
                    entries.Add(new MapEntry(word, value));
            }

            return new MapNode(at, entries);
        }

        private void Next()
        {
            bool more;
            try
            {
                more = _parser.MoveNext();
            }
            catch (Exception problem) when (problem is not YamlException)
            {
                // The parser gives up on some broken texts with faults of its own, without a place: what it last read is the nearest.
                diagnostics.Add(DocumentCodes.NotYaml, At(source, _parser.Current?.End ?? Mark.Empty), "this is not valid YAML from here on",
                    "look for a missing colon, bracket or quote on this line or the next");
                throw new WalkRefusedException();
            }

            if (!more)
                Refuse(DocumentCodes.NotYaml, "the text ends too early", null);
        }

        private void Refuse(DiagnosticCode code, string message, string? advice)
        {
            var mark = _parser.Current?.Start ?? Mark.Empty;
            diagnostics.Add(code, At(source, mark), message, advice);
            throw new WalkRefusedException();
        }
    }
}
