using System.Text;
using StateWatch.Core.Documents;

namespace StateWatch.Alerts.Osc;

/// <summary>
/// A text with placeholders, as users write it: <c>{desk}: {text}</c>. A placeholder may choose by its word, <c>{severity; urgent=127; warning=64; else=0}</c>; two braces
/// stand for one.
/// </summary>
internal sealed class OscText
{
    private readonly List<Func<OscValues, string>> _parts = [];
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);

    private OscText()
    {
    }

    /// <summary>Whether whatever comes out is a number; so for texts that are one, or one placeholder of a number or a choice of numbers.</summary>
    public bool IsNumber { get; private set; }

    /// <summary>Whether it has that placeholder.</summary>
    public bool Has(string placeholder) => _names.Contains(placeholder);

    /// <summary>What comes out.</summary>
    public string Of(OscValues values) => string.Concat(_parts.Select(part => part(values)));

    /// <summary>Reads one.</summary>
    /// <param name="text">As written.</param>
    /// <param name="known">The placeholders that there are.</param>
    /// <param name="fault">What is wrong and what to write, or null.</param>
    public static OscText? Read(string text, IReadOnlyDictionary<string, OscPlaceholder> known, out string? fault)
    {
        fault = null;
        var read = new OscText();
        var literal = new StringBuilder();
        var numbers = 0;
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] is '{' or '}' && i + 1 < text.Length && text[i + 1] == text[i])
            {
                literal.Append(text[i++]);
                continue;
            }

            if (text[i] == '}')
            {
                fault = "a '}' has no '{' before it; write '}}' for a brace that is meant as such";
                return null;
            }

            if (text[i] != '{')
            {
                literal.Append(text[i]);
                continue;
            }

            var end = text.IndexOf('}', i);
            if (end < 0)
            {
                fault = "a '{' has no '}' after it; write '{{' for a brace that is meant as such";
                return null;
            }

            read.Literal(literal);
            if (read.Placeholder(text[(i + 1)..end], known, out var isNumber) is { } wrong)
            {
                fault = wrong;
                return null;
            }

            numbers += isNumber ? 1 : 0;
            i = end;
        }

        read.IsNumber = (read._parts.Count == 1 && literal.Length == 0 && numbers == 1) || (read._parts.Count == 0 && OscNumbers.IsNumber(literal.ToString()));
        read.Literal(literal);
        return read;
    }

    private void Literal(StringBuilder literal)
    {
        if (literal.Length == 0)
            return;
        var text = literal.ToString();
        _parts.Add(_ => text);
        literal.Clear();
    }

    private string? Placeholder(string text, IReadOnlyDictionary<string, OscPlaceholder> known, out bool isNumber)
    {
        isNumber = false;
        var parts = text.Split(';', StringSplitOptions.TrimEntries);
        if (!known.TryGetValue(parts[0], out var placeholder))
        {
            var near = NearestWord.Among(parts[0], [.. known.Keys]);
            return $"there is no '{{{parts[0]}}}' here; {(near is null ? $"known are {string.Join(", ", known.Keys)}" : $"did you mean '{{{near}}}'?")}";
        }

        _names.Add(parts[0]);
        isNumber = placeholder.IsNumber;
        if (parts.Length == 1)
        {
            _parts.Add(placeholder.Text);
            return null;
        }

        var chosen = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var part in parts[1..])
        {
            var equals = part.IndexOf('=', StringComparison.Ordinal);
            if (equals <= 0)
                return $"'{part}' is no choice; write them like {{{parts[0]}; word=value; else=value}}";
            var word = part[..equals].TrimEnd();
            if (word != "else" && placeholder.Words is { } words && !words.Contains(word, StringComparer.Ordinal))
                return $"'{parts[0]}' is never '{word}'; it is {string.Join(", ", words)}, or else";
            if (!chosen.TryAdd(word, part[(equals + 1)..].TrimStart()))
                return $"'{word}' is chosen twice; leave one of them out";
        }

        if (!chosen.Remove("else", out var otherwise))
            return $"these choices do not say what else counts; add '; else=value' in {{{text}}}";
        isNumber = OscNumbers.IsNumber(otherwise) && chosen.Values.All(OscNumbers.IsNumber);
        _parts.Add(values => chosen.GetValueOrDefault(placeholder.Text(values), otherwise));
        return null;
    }
}
