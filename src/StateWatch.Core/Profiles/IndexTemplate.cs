using System.Globalization;

namespace StateWatch.Core.Profiles;

/// <summary>
/// A text with number forms in braces: <c>{n}</c>, <c>{n+k}</c>, <c>{n-k}</c>, <c>{k+n}</c>, <c>{(n-1)/k}</c>, <c>{(n-1)%k}</c>,
/// each optionally followed by <c>+k</c> or <c>-k</c>, and a format: <c>{n:03}</c> pads with zeros, <c>{n:a}</c> writes letters.
/// </summary>
public sealed class IndexTemplate
{
    /// <summary>The longest text that is written, in characters.</summary>
    public const int MaxLength = 512;

    private readonly List<Part> _parts = [];
    private readonly List<string> _names = [];

    private IndexTemplate(string text) => Text = text;

    /// <summary>The template as written.</summary>
    public string Text { get; }

    /// <summary>The placeholder names, each once, in order of first use.</summary>
    public IReadOnlyList<string> Names => _names;

    /// <summary>Reads a template.</summary>
    /// <param name="text">The text.</param>
    /// <param name="problem">What is wrong with it, or null.</param>
    /// <param name="column">Where in the text, from 0.</param>
    public static IndexTemplate? TryParse(string text, out string? problem, out int column)
    {
        var template = new IndexTemplate(text);
        problem = null;
        column = 0;
        var start = 0;
        for (var at = text.AsSpan().IndexOfAny('{', '}'); at >= 0;)
        {
            if (text[at] == '}')
                return Fail("a closing brace has no opening one", at, out problem, out column);
            var end = text.IndexOf('}', at);
            if (end < 0)
                return Fail("an opening brace is never closed", at, out problem, out column);
            var form = IndexForm.TryParse(text.AsSpan(at + 1, end - at - 1), out var format, out problem);
            if (form is null)
                return Fail(problem!, at, out problem, out column);
            template._parts.Add(new Part(text[start..at], form, format));
            if (form.Name.Length > 0 && !template._names.Contains(form.Name))
                template._names.Add(form.Name);
            start = end + 1;
            var next = text.AsSpan(start).IndexOfAny('{', '}');
            at = next < 0 ? -1 : start + next;
        }

        template._parts.Add(new Part(start == 0 ? text : text[start..], null, IndexFormat.Plain));
        return template;
    }

    /// <summary>The template as written with another placeholder name, or null when there is none.</summary>
    public string? WithName(string old, string? name) => name is null ? null : Rename(Text, old, name);

    /// <summary>A text in whose braces one name stands for another.</summary>
    internal static string Rename(string text, string old, string name)
    {
        for (var open = text.IndexOf('{', StringComparison.Ordinal); open >= 0; open = text.IndexOf('{', open + 1))
        {
            var at = text.IndexOf(old, open, StringComparison.Ordinal);
            if (at > 0 && at < text.IndexOf('}', open) && !char.IsLetter(text[at - 1]) && !char.IsLetter(text[at + old.Length]))
                text = text[..at] + name + text[(at + old.Length)..];
        }

        return text;
    }

    /// <summary>Writes the text for given numbers.</summary>
    /// <param name="names">Placeholder names.</param>
    /// <param name="numbers">Their numbers, in the same order.</param>
    /// <param name="result">The text; empty when there is none.</param>
    /// <returns>False when a form gives a negative number, or one that its format cannot spell.</returns>
    public bool TryExpand(IReadOnlyList<string> names, ReadOnlySpan<int> numbers, out string result)
    {
        Span<char> buffer = stackalloc char[MaxLength];
        var spelled = TryExpand(names, numbers, buffer, out var length);
        result = spelled ? buffer[..length].ToString() : "";
        return spelled;
    }

    /// <summary>Writes the text for given numbers into a buffer.</summary>
    /// <param name="names">Placeholder names.</param>
    /// <param name="numbers">Their numbers, in the same order.</param>
    /// <param name="buffer">Where to; <see cref="MaxLength"/> characters are enough.</param>
    /// <param name="length">How many characters were written.</param>
    /// <returns>False when a form gives a negative number, or one that its format cannot spell, or the buffer is too small.</returns>
    public bool TryExpand(IReadOnlyList<string> names, ReadOnlySpan<int> numbers, Span<char> buffer, out int length)
    {
        length = 0;
        foreach (var part in _parts)
        {
            if (!part.Literal.TryCopyTo(buffer[length..]))
                return false;
            length += part.Literal.Length;
            if (part.Form is null)
                continue;
            var value = part.Form.Evaluate(NumberOf(part.Form.Name, names, numbers));
            if (value < 0 || !part.Format.TryWrite(value, buffer[length..], out var written))
                return false;
            length += written;
        }

        return true;
    }

    /// <summary>The number a template stands for that is one form and nothing else, or a plain number.</summary>
    /// <returns>False when the template is more than that, or the number is negative.</returns>
    public bool TryEvaluate(IReadOnlyList<string> names, ReadOnlySpan<int> numbers, out int number)
    {
        number = -1;
        if (_parts is [{ Form: null } only])
            return int.TryParse(only.Literal, NumberStyles.None, CultureInfo.InvariantCulture, out number);
        if (_parts is not [{ Literal: "", Form: { } form }, { Literal: "", Form: null }])
            return false;
        number = form.Evaluate(NumberOf(form.Name, names, numbers));
        return number >= 0;
    }

    // A form without a name is a plain number.
    private static int NumberOf(string name, IReadOnlyList<string> names, ReadOnlySpan<int> numbers)
    {
        for (var i = 0; i < names.Count; i++)
        {
            if (names[i] == name)
                return numbers[i];
        }

        return name.Length == 0 ? 0 : throw new ArgumentException($"no number given for '{name}'", nameof(names));
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

    public bool TryWrite(int value, Span<char> text, out int written)
    {
        if (!Letters)
        {
            var digits = 1;
            for (var rest = value; rest >= 10; rest /= 10)
                digits++;
            var zeros = Math.Max(0, Width - digits);
            written = zeros + digits;
            if (text.Length < written)
                return false;
            text[..zeros].Fill('0');
            return value.TryFormat(text[zeros..], out _, provider: CultureInfo.InvariantCulture);
        }

        written = 0;
        if (value < 1)
            return false;
        for (var rest = value; rest > 0; rest = (rest - 1) / 26)
            written++;
        if (text.Length < written)
            return false;
        for (var (rest, at) = (value, written - 1); rest > 0; rest = (rest - 1) / 26, at--)
            text[at] = (char)('a' + ((rest - 1) % 26));
        return true;
    }
}
