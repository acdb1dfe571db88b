using System.Text.RegularExpressions;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Schemas;

/// <summary>Regular expressions (ECMA-262) of single values, and whether an editor's YAML may have made a number or a truth value of one.</summary>
internal static class ValuePatterns
{
    private const string Number = @"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)";

    /// <summary>The expression of what a setting may hold, or null where only the desk profile can tell.</summary>
    /// <param name="kinds">What it may hold.</param>
    /// <param name="exact">No <c>any</c>, no tolerance.</param>
    public static string? Of(ValueKinds kinds, bool exact)
    {
        if ((kinds & (ValueKinds.Choice | ValueKinds.Text | ValueKinds.Point)) != ValueKinds.None)
            return null;
        var parts = new List<string>();
        if (kinds.HasFlag(ValueKinds.Level) || kinds.HasFlag(ValueKinds.Number))
        {
            // A level may be -inf; which unit a number has is the profile's matter.
            var unit = kinds.HasFlag(ValueKinds.Number) ? "[A-Za-z%]*" : "(dB)?";
            var off = kinds.HasFlag(ValueKinds.Level) ? $@"- *inf *{unit}|" : "";
            parts.Add($@"({off}{Number}\s*{unit}){(exact ? "" : "( within .+)?")}");
        }

        if (kinds.HasFlag(ValueKinds.Switch))
            parts.Add("on|off|true|false|yes|no");
        if (!exact)
            parts.Add("any");
        return $@"^\s*({string.Join('|', parts)})\s*$";
    }

    /// <summary>The expression of a number with a unit, range included as far as the unit itself is written.</summary>
    public static string Of(QuantityShape quantity)
    {
        if (quantity.Unit == Unit.None)
            return $@"^\s*\+?([0-9]+\.?[0-9]*|\.[0-9]+)\s*(dB|ms|s|k?Hz|%)?\s*$";
        var number = double.IsInfinity(quantity.Most) ? @"([0-9]+\.?[0-9]*|\.[0-9]+)"
            : $@"0*({NumberPattern.Of((int)quantity.Least, (int)quantity.Most - 1)}(\.[0-9]*)?|{(int)quantity.Most}(\.0*)?)";
        var other = quantity.Unit switch { Unit.Millisecond => "s", Unit.Hertz => "kHz", Unit.Kilohertz => "Hz", _ => null };
        return $@"^\s*\+?({number}\s*({quantity.Unit.Word()})?{(other is null ? "" : $@"|([0-9]+\.?[0-9]*|\.[0-9]+)\s*{other}")})\s*$";
    }

    /// <summary>The types a value can have once an editor has read it by YAML's core schema.</summary>
    public static IEnumerable<string> Types(string? pattern)
    {
        yield return "string";
        if (Matches(pattern, "7") || Matches(pattern, "-1.5"))
            yield return "number";
        if (Matches(pattern, "true"))
            yield return "boolean";
        if (Matches(pattern, ""))
            yield return "null";
    }

    private static bool Matches(string? pattern, string text) => pattern is null || Regex.IsMatch(text, pattern, RegexOptions.NonBacktracking);
}
