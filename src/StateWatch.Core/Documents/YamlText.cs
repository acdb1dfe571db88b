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

    /// <summary>The most values and keys that are read: twenty times a large show, and what is parsed in less than a tenth of a second.</summary>
    public const int MaxNodes = 40_000;

    /// <summary>The longest value or key, in characters. Faults quote what they are about, so a longer one would be written out a thousand times.</summary>
    public const int LongestText = 1_000;

    private const int MostLines = 100_000;
    private const int LongestLine = 250_000;
    private const string IsItThisFile = "a plan or profile is a page or two of text: is this the right file?";

    // One %YAML line is harmless; more only feed the parser.
    private const int MostDirectives = 2;

    /// <summary>Reads the one document of a file.</summary>
    /// <returns>Its root mapping, or null after a diagnostic.</returns>
    public static MapNode? Read(SourceText source, DiagnosticBag diagnostics)
    {
        var nodes = 0;
        return Read(source, diagnostics, ref nodes);
    }

    /// <summary>Reads the one document of a file that belongs to others.</summary>
    /// <param name="source">The text.</param>
    /// <param name="diagnostics">Gets every fault.</param>
    /// <param name="nodes">How many values the others held, and then with this one; all together are held to <see cref="MaxNodes"/>.</param>
    /// <returns>Its root mapping, or null after a diagnostic.</returns>
    public static MapNode? Read(SourceText source, DiagnosticBag diagnostics, ref int nodes)
    {
        if (!IsReadable(source, diagnostics))
            return null;
        var walker = new Walker(source, diagnostics, nodes);
        try
        {
            var root = walker.ReadDocument();
            nodes = walker.Nodes;
            return root;
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

    // One pass over the lines before the parser sees any: some texts cost it seconds, and it reports a tab at 1:1.
    private static bool IsReadable(SourceText source, DiagnosticBag diagnostics)
    {
        var (line, directives, begun) = (0, 0, false);
        foreach (var text in source.Text.AsSpan().EnumerateLines())
        {
            line++;
            if (line > MostLines)
                return Refuse(DocumentCodes.TooMany, 1, $"this file has more than {MostLines:N0} lines", IsItThisFile);
            if (text.Length > LongestLine)
                return Refuse(DocumentCodes.TextTooLong, LongestLine + 1, $"this line has {text.Length:N0} characters; at most {LongestLine:N0} are read", IsItThisFile);
            var indent = text.Length - text.TrimStart(" \t").Length;
            if (indent == text.Length || text[indent] == '#')
                continue;
            if (text[..indent].IndexOf('\t') is >= 0 and var tab)
                return Refuse(DocumentCodes.TabIndent, tab + 1, "this line is indented with a tab", "use spaces");
            if (!begun && text[0] == '%' && ++directives > MostDirectives)
                return Refuse(DocumentCodes.NotInLanguage, 1, "directives (%) are not part of the language", "leave them out");
            begun |= text[0] != '%';
        }

        if (begun || directives > 0)
            return true;
        line = 1;
        return Refuse(DocumentCodes.EmptyFile, 1, "this file holds no statement", IsItThisFile);

        bool Refuse(DiagnosticCode code, int column, string message, string advice)
        {
            diagnostics.Add(code, new Origin(source.Name, new Place(line, column)), message, advice);
            return false;
        }
    }

    private static readonly SearchValues<char> Controls = SearchValues.Create(
        [.. Enumerable.Range(0, 0xA0).Where(code => char.IsControl((char)code) && (char)code is not ('\t' or '\n' or '\r')).Select(code => (char)code)]);

    private sealed class WalkRefusedException : Exception;

    private sealed class Walker(SourceText source, DiagnosticBag diagnostics, int nodesBefore)
    {
        private readonly Parser _parser = new(new StringReader(source.Text));

        /// <summary>How many values were read, with those of the files before.</summary>
        public int Nodes { get; private set; } = nodesBefore;

        public MapNode? ReadDocument()
        {
            Next();
            Next();
            if (_parser.Current is StreamEnd)
            {
                diagnostics.Add(DocumentCodes.EmptyFile, new Origin(source.Name, new Place(1, 1)), "this file holds no statement", IsItThisFile);
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
            if (++Nodes > MaxNodes)
                Refuse(DocumentCodes.TooMany, $"this file holds more than {MaxNodes:N0} values", IsItThisFile);
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
                    if (scalar.Value.Length > LongestText)
                        Refuse(DocumentCodes.TextTooLong, $"this text has {scalar.Value.Length:N0} characters; at most {LongestText:N0} are read", "look for a quote that is never closed, or say it in fewer words");
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
