using System.Globalization;
using StateWatch.Core.Auditing;

namespace StateWatch.Core.Reports;

/// <summary>A cause in one sentence for a volunteer.</summary>
internal static class VolunteerWords
{
    // A desk may hold a name of any length; it must not push everything else off the first lines.
    private const int LongestWhat = 160;

    /// <summary>What is wrong, what is heard, the one thing to do.</summary>
    public static string Line(Cause cause) =>
        $"{PlainText.Clean(What(cause), LongestWhat)}: {Heard(cause)}. {PlainText.Clean(Fix(cause), LongestWhat)}.";

    /// <summary>What is heard because of it, without a full stop.</summary>
    public static string Heard(Cause cause)
    {
        var heard = cause.Told.Select(finding => Short(finding).Heard).Distinct().ToList();
        return heard.Count == 1 ? heard[0] : "more than one thing sounds wrong";
    }

    /// <summary>The one thing to do, without a full stop.</summary>
    public static string Fix(Cause cause)
    {
        var first = Short(cause.Told[0]);
        if (cause.Told.Count == 1)
            return first.Fix;
        return first.FixAll ?? first.Fix;
    }

    /// <summary>Share of planned settings that were seen; never 100 % unless all were.</summary>
    public static string Percent(SweepResult result) => result.Verified == result.Planned
        ? "100 %"
        : string.Create(CultureInfo.InvariantCulture, $"{1000L * result.Verified / result.Planned / 10.0:0.0} %");

    /// <summary>Whether all its findings are told by the same words, as the two sides of a pair are.</summary>
    public static bool IsOneThing(Cause cause) => cause.Told.All(finding => Short(finding).What == Short(cause.Told[0]).What);

    /// <summary>What is wrong, without a full stop.</summary>
    public static string What(Cause cause)
    {
        var first = cause.Told[0];
        if (IsOneThing(cause))
            return first.Name is { } name && Short(first).What.StartsWith(name, StringComparison.Ordinal) ? Short(first).What : Sentences.Capital(Short(first).What);
        return $"{first.Words.CauseName}, {string.Format(null, first.Rule.Plural, cause.Told.Count)}";
    }

    private static ShortWords Short(Finding finding) => finding.Words.Short
        ?? new ShortWords(finding.Words.What, finding.Words.Why.TrimEnd('.'), finding.Words.Do.TrimEnd('.'));
}

/// <summary>The order in which causes are told.</summary>
public static class CauseOrder
{
    private static readonly Dictionary<string, int> Places = Auditing.Rules.RuleCatalogue.All
        .Select((rule, place) => (rule.Id, place)).ToDictionary(pair => pair.Id, pair => pair.place, StringComparer.Ordinal);

    /// <summary>Another show first, as nothing below it can be trusted; then the most urgent, among equals danger before the rest in the order of the rule catalogue, then as they were.</summary>
    public static IReadOnlyList<Cause> Sorted(IReadOnlyList<Cause> causes) =>
        [.. causes.OrderByDescending(RootCauses.ComesFirst).ThenByDescending(cause => cause.Severity).ThenBy(cause => Places.GetValueOrDefault(cause.Findings[0].Rule.Id, int.MaxValue))];
}
