using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>A setting path with placeholders, and what each counts over.</summary>
internal sealed class PathTemplate
{
    private PathTemplate(string text, IndexTemplate template, string shape, IReadOnlyList<Span> spans)
    {
        Text = text;
        Template = template;
        Shape = shape;
        Spans = spans;
    }

    public string Text { get; }

    public IndexTemplate Template { get; }

    /// <summary>The path with every number and placeholder as <c>#</c>.</summary>
    public string Shape { get; }

    /// <summary>What each placeholder runs over, in the order of the template's names.</summary>
    public IReadOnlyList<Span> Spans { get; }

    public static PathTemplate? Read(ScalarNode key, StripCounts counts, MapNode? narrowing, DiagnosticBag diagnostics)
    {
        var template = IndexTemplate.TryParse(key.Text, out var problem, out var column);
        if (template is null)
        {
            diagnostics.Add(ProfileCodes.BadNumberForm, key.At, $"'{key.Text}', character {column + 1}: {problem}", null);
            return null;
        }

        var spans = new Dictionary<string, Span>(StringComparer.Ordinal);
        var segments = key.Text.Split('/');
        var shape = new StringBuilder();
        for (var i = 0; i < segments.Length; i++)
        {
            var segment = segments[i];
            var dash = segment.IndexOf('-', StringComparison.Ordinal);
            var brace = segment.IndexOf('{', StringComparison.Ordinal);
            var banked = dash > 0 && IsNumberLike(segment[(dash + 1)..]);
            var counted = banked ? segment[..dash] : i > 0 ? segments[i - 1] : "";
            if (i > 0)
                shape.Append('/');
            if (!banked && !IsNumberLike(segment))
            {
                shape.Append(segment);
                continue;
            }

            shape.Append(banked ? counted + "-#" : "#");
            var count = counts.Count(counted, segments[0]);
            if (brace < 0)
            {
                CheckNumber(key, banked ? segment[(dash + 1)..] : segment, counted, count, diagnostics);
                continue;
            }

            var name = segment[(brace + 1)..^1];
            if (count == 0)
                diagnostics.Add(ProfileCodes.UnknownPlaceholder, key.At, $"'{segment}' counts over '{counted}', which has no count",
                    $"add '{counted}' under strips (or slots)", null);
            spans[name] = new Span(1, count);
        }

        Narrow(narrowing, spans, diagnostics);
        if (template.Names.Any(name => !spans.ContainsKey(name)))
        {
            diagnostics.Add(ProfileCodes.UnknownPlaceholder, key.At, $"'{key.Text}': in a path a placeholder is a whole number, such as {{i}}", null);
            return null;
        }

        return new PathTemplate(key.Text, template, shape.ToString(), [.. template.Names.Select(name => spans[name])]);
    }

    private static bool IsNumberLike(string segment) =>
        segment.Length > 0 && (segment is ['{', .., '}'] || segment.All(char.IsAsciiDigit));

    private static void CheckNumber(ScalarNode key, string text, string counted, int count, DiagnosticBag diagnostics)
    {
        if (count > 0 && (!int.TryParse(text, out var number) || number < 1 || number > count))
            diagnostics.Add(DocumentCodes.OutOfRange, key.At, $"'{key.Text}': '{counted}' is counted from 1 to {count}, so there is no {text}", "correct the number, or the count under strips");
    }

    private static void Narrow(MapNode? narrowing, Dictionary<string, Span> spans, DiagnosticBag diagnostics)
    {
        foreach (var (name, value) in narrowing?.Entries ?? [])
        {
            if (!spans.TryGetValue(name.Text, out var span))
                diagnostics.Add(ProfileCodes.UnknownPlaceholder, name.At, $"'{name.Text}' is not a placeholder of this path", null,
                    NearestWord.Among(name.Text, spans.Keys));
            else if (value is not ScalarNode scalar || !NumberRange.TryParse(scalar.Text, out var first, out var last) || last > span.Last)
                diagnostics.Add(DocumentCodes.OutOfRange, value.At, $"'{(value as ScalarNode)?.Text}' is not a range within 1-{span.Last}", "write it like 1-32");
            else
                spans[name.Text] = new Span(first, last);
        }
    }

    /// <summary>The numbers a placeholder runs over, both ends included.</summary>
    internal readonly record struct Span(int First, int Last);
}
