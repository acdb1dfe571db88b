using System.Globalization;

namespace StateWatch.Core.Profiles;

/// <summary>One number form: ((name + inner) / or % divisor) + outer.</summary>
public sealed class IndexForm
{
    private readonly int _inner;
    private readonly char _operation;
    private readonly int _divisor;
    private readonly int _outer;

    private IndexForm(string name, int inner, char operation, int divisor, int outer)
    {
        Name = name;
        _inner = inner;
        _operation = operation;
        _divisor = divisor;
        _outer = outer;
    }

    /// <summary>The placeholder's name, or empty for a plain number.</summary>
    public string Name { get; }

    /// <summary>Evaluates the form.</summary>
    /// <param name="number">The placeholder's number.</param>
    public int Evaluate(int number)
    {
        var value = number + _inner;
        value = _operation switch { '/' => (int)Math.Floor((double)value / _divisor), '%' => value % _divisor, _ => value };
        return value + _outer;
    }

    /// <summary>Reads a form such as <c>(i-1)%24</c> from between braces, or a plain number.</summary>
    internal static IndexForm? TryParse(ReadOnlySpan<char> text, out IndexFormat format, out string? problem)
    {
        format = IndexFormat.Plain;
        problem = null;
        var colon = text.IndexOf(':');
        if (colon >= 0 && !IndexFormat.TryParse(text[(colon + 1)..], out format))
            return Fail($"'{text[(colon + 1)..]}' is not a number format; write 02, 03 … or a", out problem);
        var rest = colon >= 0 ? text[..colon] : text;
        var form = ParseBody(rest);
        return form ?? Fail($"'{text}' is not a number form; write {{n}}, {{n-1}}, {{(n-1)/24}}, {{(n-1)%24}}, {{n:02}} or {{n:a}}", out problem);
    }

    private static IndexForm? ParseBody(ReadOnlySpan<char> text)
    {
        if (text.StartsWith("("))
        {
            var close = text.IndexOf(')');
            if (close < 0 || !TryParseSum(text[1..close], out var name, out var inner) || name.Length == 0)
                return null;
            var rest = text[(close + 1)..];
            if (rest.Length < 2 || rest[0] is not ('/' or '%'))
                return null;
            var digits = 1;
            while (digits < rest.Length && char.IsAsciiDigit(rest[digits]))
                digits++;
            if (!TryNumber(rest[1..digits], out var divisor) || divisor == 0)
                return null;
            var outer = 0;
            if (digits < rest.Length && !TrySigned(rest[digits..], out outer))
                return null;
            return new IndexForm(name, inner, rest[0], divisor, outer);
        }

        return TryParseSum(text, out var plain, out var offset) ? new IndexForm(plain, offset, ' ', 1, 0) : null;
    }

    // name, name+k, name-k, k+name, or k alone
    private static bool TryParseSum(ReadOnlySpan<char> text, out string name, out int offset)
    {
        name = "";
        offset = 0;
        if (TryNumber(text, out offset))
            return true;
        var sign = text.IndexOfAny('+', '-');
        if (sign < 0)
            return IsName(text, out name);
        if (text[sign] == '+' && TryNumber(text[..sign], out offset))
            return IsName(text[(sign + 1)..], out name);
        return IsName(text[..sign], out name) && TrySigned(text[sign..], out offset);
    }

    private static bool IsName(ReadOnlySpan<char> text, out string name)
    {
        name = text.ToString();
        return text.Length is > 0 and <= 16 && !text.ContainsAnyExceptInRange('a', 'z');
    }

    private static bool TryNumber(ReadOnlySpan<char> text, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value) && value <= 1_000_000;

    private static bool TrySigned(ReadOnlySpan<char> text, out int value)
    {
        value = 0;
        if (text.Length < 2 || text[0] is not ('+' or '-') || !TryNumber(text[1..], out var size))
            return false;
        value = text[0] == '-' ? -size : size;
        return true;
    }

    private static IndexForm? Fail(string what, out string? problem)
    {
        problem = what;
        return null;
    }
}
