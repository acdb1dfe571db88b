using StateWatch.Core.Settings;

namespace StateWatch.Core.Schemas;

/// <summary>The catalogue's setting paths as regular expressions (ECMA-262), one for all strips that have the setting.</summary>
/// <param name="Pattern">Matches the whole path.</param>
/// <param name="Description">What it is, for editors.</param>
/// <param name="Values">What it may hold.</param>
internal sealed record SettingPaths(string Pattern, string Description, ValueKinds Values)
{
    /// <summary>Every path there can be. A slash is written as its code: not every validator takes one in the keys of <c>patternProperties</c>.</summary>
    /// <param name="exact">Numbers are single; otherwise they may be ranges, as in plans.</param>
    public static IEnumerable<SettingPaths> All(bool exact)
    {
        var number = exact ? "[1-9][0-9]{0,3}" : "0*[1-9][0-9]{0,3}(-0*[1-9][0-9]{0,3})?";
        return SettingCatalogue.Shapes("bank-#").Select(shape => SettingCatalogue.Find(shape)!)
            .GroupBy(kind => (kind.Suffix, kind.Values, kind.Words, Lead: LeadOf(kind.StripKind)))
            .Select(alike => new SettingPaths(
                $"^{alike.Key.Lead.Replace("KINDS", string.Join('|', alike.Select(kind => kind.StripKind).Distinct()), StringComparison.Ordinal)}{alike.Key.Suffix}$"
                    .Replace("<bus>", $"({string.Join('|', SettingCatalogue.BusKinds)})", StringComparison.Ordinal).Replace("#", number, StringComparison.Ordinal)
                    .Replace("/", @"\x2F", StringComparison.Ordinal),
                $"{char.ToUpperInvariant(alike.Key.Words[0])}{alike.Key.Words[1..]} ({alike.First().Class.Word()}).",
                alike.Key.Values));
    }

    private static string LeadOf(string strip) => strip switch
    {
        "desk" => "desk/",
        "socket" or "output" => "(KINDS)/[a-z]{1,16}-#/",
        _ => "(KINDS)/#/",
    };
}
