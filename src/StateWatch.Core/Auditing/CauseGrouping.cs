using System.Globalization;

namespace StateWatch.Core.Auditing;

/// <summary>Groups findings that one act explains: one cause, one line. What follows from another finding is folded under it.</summary>
internal static class CauseGrouping
{
    public static List<Cause> Group(AuditFacts facts, IReadOnlyList<Finding> findings)
    {
        var rootOf = RootCauses.Of(facts, findings);
        var folded = rootOf.ToLookup(pair => pair.Value.Id, pair => pair.Key, StringComparer.Ordinal);
        var causes = new List<Cause>();
        foreach (var group in findings.Where(finding => !rootOf.ContainsKey(finding)).GroupBy(finding => (finding.Rule.Id, finding.Words.Cause)))
        {
            var told = group.ToList();
            var first = told[0];
            List<Finding> all = [.. told, .. told.SelectMany(finding => folded[finding.Id])];
            var severity = all.Max(member => member.Severity);
            causes.Add((told.Count == 1
                ? new Cause(first.Id, first.Words.What, severity, all)
                : new Cause($"{group.Key.Id}:{group.Key.Cause}", Headline(first, told.Count), severity, all)) with
            { Told = told });
        }

        return causes;
    }

    private static string Headline(Finding first, int count) =>
        $"{first.Words.CauseName}: {string.Format(CultureInfo.InvariantCulture, first.Rule.Plural, count)}";
}
