using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Whether waivers can ever match, and whether they still count.</summary>
public static class WaiverCheck
{
    /// <summary>Names every waiver whose rule or setting nobody knows.</summary>
    /// <param name="waivers">The plan's waivers.</param>
    /// <param name="profile">The desk.</param>
    /// <param name="diagnostics">Gets the faults.</param>
    public static void Names(IReadOnlyList<WaiverLine> waivers, DeskProfile profile, DiagnosticBag diagnostics)
    {
        foreach (var line in waivers)
        {
            var rules = RuleCatalogue.All.Select(rule => rule.Id).ToList();
            if (!rules.Contains(line.Rule))
                diagnostics.Add(PlanCodes.UnknownRule, line.Finding.At, $"there is no rule '{line.Rule}'", "copy the finding's id from a sweep's report", NearestWord.Among(line.Rule, rules));
            if (profile.Find(line.Subject) < 0)
                diagnostics.Add(PlanCodes.UnknownSubject, line.Finding.At, $"the profile of {profile.Desk} does not map '{line.Subject}', so no finding can name it",
                    "copy the finding's id from a sweep's report", NearestWord.Among(line.Subject, profile.Settings.Select(setting => setting.Path)));
        }
    }

    /// <summary>Warns of every waiver that is over.</summary>
    /// <param name="waivers">The plan's waivers.</param>
    /// <param name="today">The day, in local time.</param>
    /// <param name="diagnostics">Gets the warnings.</param>
    public static void Dates(IReadOnlyList<WaiverLine> waivers, DateOnly today, DiagnosticBag diagnostics)
    {
        foreach (var line in waivers)
        {
            if (!line.IsActive(today))
                diagnostics.Add(PlanCodes.ExpiredWaiver, line.UntilAt, $"the waiver of '{line.Finding.Text}' ended on {line.UntilText} and no longer counts",
                    $"mend it and take the waiver out, or let {line.Owner} set a new day");
        }
    }
}
