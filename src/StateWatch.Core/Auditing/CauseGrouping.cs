using System.Globalization;

namespace StateWatch.Core.Auditing;

/// <summary>Groups findings that one act explains: one cause, one line.</summary>
internal static class CauseGrouping
{
    public static List<Cause> Group(IReadOnlyList<Finding> findings)
    {
        var causes = new List<Cause>();
        foreach (var group in findings.GroupBy(finding => (finding.Rule.Id, finding.Words.Cause)))
        {
            var members = group.ToList();
            var first = members[0];
            causes.Add(members.Count == 1
                ? new Cause(first.Id, first.Words.What, first.Severity, members)
                : new Cause($"{group.Key.Id}:{group.Key.Cause}", Headline(first, members.Count), members.Max(member => member.Severity), members));
        }

        return causes;
    }

    private static string Headline(Finding first, int count) =>
        $"{first.Words.CauseName}: {string.Format(CultureInfo.InvariantCulture, first.Rule.Plural, count)}";
}
