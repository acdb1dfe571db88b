using System.Globalization;
using System.Text;

namespace StateWatch.Core.Profiles;

/// <summary>
/// A text with number forms in braces: <c>{n}</c>, <c>{n+k}</c>, <c>{n-k}</c>, <c>{k+n}</c>, <c>{(n-1)/k}</c>, <c>{(n-1)%k}</c>,
/// each optionally followed by <c>+k</c> or <c>-k</c>, and a format: <c>{n:03}</c> pads with zeros, <c>{n:a}</c> writes letters.
/// </summary>
public sealed class IndexTemplate
{
    private readonly List<Part> _parts = [];

    private IndexTemplate(string text) => Text = text;

    /// <summary>The template as written.</summary>
    public string Text { get; }

    /// <summary>The placeholder names, each once, in order of first use.</summary>
    public IReadOnlyList<string> Names { get; private set; } = [];

    /// <summary>Reads a template.</summary>
    /// <param name="text">The text.</param>
    /// <param name="problem">What is wrong with it, or null.</param>
    /// <param name="column">Where in the text, from 0.</param>
    public static IndexTemplate? TryParse(string text, out string? problem, out int column)
    {
        var template = new IndexTemplate(text);
        problem = null;
        column = 0;
        var literal = new StringBuilder();
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] == '}')
                return Fail("a closing brace has no opening one", i, out problem, out column);
            if (text[i] != '{')
            {
                literal.Append(text[i]);
                continue;
            }

            var end = text.IndexOf('}', i);
            if (end < 0)
                return Fail("an opening brace is never closed", i, out problem, out column);
            template._parts.Add(new Part(literal.ToString(), null, IndexFormat.Plain));
            literal.Clear();
            var form = IndexForm.TryParse(text.AsSpan(i + 1, end - i - 1), out var format, out problem);
            if (form is null)
                return Fail(problem!, i, out problem, out column);
            template._parts.Add(new Part("", form, format));
            i = end;
        }

        template._parts.Add(new Part(literal.ToString(), null, IndexFormat.Plain));
        template.Names = [.. template._parts.Where(part => part.Form is not null).Select(part => part.Form!.Name).Distinct()];
        return template;
    }

    /// <summary>Writes the text for given numbers.</summary>
    /// <param name="names">Placeholder names.</param>
    /// <param name="numbers">Their numbers, in the same order.</param>
    /// <param name="result">The text, or null when a form gives a negative number where that has no spelling.</param>
    public bool TryExpand(IReadOnlyList<string> names, ReadOnlySpan<int> numbers, out string result)
    {
        var text = new StringBuilder();
        result = "";
        foreach (var part in _parts)
        {
            if (part.Form is null)
            {
                text.Append(part.Literal);
                continue;
            }

            var value = part.Form.Evaluate(numbers[IndexOf(names, part.Form.Name)]);
            if (value < 0 || !part.Format.TryWrite(value, text))
                return false;
        }

        result = text.ToString();
        return true;
    }

    private static int IndexOf(IReadOnlyList<string> names, string name)
    {
        for (var i = 0; i < names.Count; i++)
        {
            if (names[i] == name)
                return i;
        }

        throw new ArgumentException($"no number given for '{name}'", nameof(names));
    }

    private static IndexTemplate? Fail(string what, int where, out string? problem, out int column)
    {
        problem = what;
        column = where;
        return null;
    }

    private readonly record struct Part(string Literal, IndexForm? Form, IndexFormat Format);
}

/// <summary>How a number is written: plain, padded with zeros to a width, or as letters.</summary>
/// <param name="Width">Zero-padded width; 0 for plain.</param>
/// <param name="Letters">Letters a, b, … z, aa for 1, 2, … 26, 27.</param>
internal readonly record struct IndexFormat(int Width, bool Letters)
{
    public static IndexFormat Plain => default;

    public static bool TryParse(ReadOnlySpan<char> text, out IndexFormat format)
    {
        format = Plain;
        if (text is "a")
        {
            format = new IndexFormat(0, true);
            return true;
        }

        if (text.Length < 2 || text[0] != '0' || !int.TryParse(text[1..], NumberStyles.None, null, out var width) || width is < 1 or > 9)
            return false;
        format = new IndexFormat(width, false);
        return true;
    }

    public bool TryWrite(int value, StringBuilder text)
    {
        if (!Letters)
        {
            text.Append(value.ToString(CultureInfo.InvariantCulture).PadLeft(Width, '0'));
            return true;
        }

        if (value < 1)
            return false;
        var letters = "";
        for (; value > 0; value = (value - 1) / 26)
            letters = (char)('a' + ((value - 1) % 26)) + letters;
        text.Append(letters);
        return true;
    }
}
