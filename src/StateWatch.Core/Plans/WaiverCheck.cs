using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Whether waivers can ever match, and whether they still count.</summary>
public static class WaiverCheck
{
    // Looking through every path of a desk takes milliseconds; a hostile file could ask for it many thousand times.
    private const int MostSuggestions = 20;

    /// <summary>Names every waiver whose rule or subject nobody knows.</summary>
    /// <param name="waivers">The plan's waivers.</param>
    /// <param name="profile">The desk.</param>
    /// <param name="feeds">The keys of the plan's feeds.</param>
    /// <param name="diagnostics">Gets the faults.</param>
    /// <param name="ratios">What findings call the plan's ratios.</param>
    public static void Names(IReadOnlyList<WaiverLine> waivers, DeskProfile profile, IReadOnlySet<string> feeds, DiagnosticBag diagnostics, IReadOnlySet<string> ratios)
    {
        var rules = waivers.Count > 0 ? RuleCatalogue.All.Select(rule => rule.Id).ToHashSet(StringComparer.Ordinal) : [];
        var suggestions = 0;
        foreach (var line in waivers)
        {
            var (isRule, isSetting) = (rules.Contains(line.Rule), profile.Find(line.Subject) >= 0 || IsPair(line.Subject, profile, feeds) || (line.Rule == "ratio-off" && ratios.Contains(line.Subject)) || IsTimed(line, profile));
            if (isRule && isSetting)
                continue;
            var look = suggestions++ < MostSuggestions;
            var rule = isRule ? line.Rule : look ? NearestWord.Among(line.Rule, rules, diagnostics) : null;
            var path = isSetting ? line.Subject : look ? NearestPath.Among(line.Subject, profile.Settings.Select(setting => setting.Path), line.Subject, diagnostics) : null;
            var near = rule is null || path is null ? null : $"{rule}:{path}";
            var advice = near is null ? "copy the finding's id from a sweep's report" : $"did you mean '{near}'?";
            if (!isRule)
                diagnostics.Add(PlanCodes.UnknownRule, line.Finding.At, $"there is no rule '{line.Rule}'", advice, near);
            if (!isSetting)
                diagnostics.Add(PlanCodes.UnknownSubject, line.Finding.At, $"the profile of {profile.Desk} does not map '{line.Subject}', so no finding can name it", advice, near);
        }
    }

    // A step of a circle or a source at a feed: 'group/1>group/2', 'input/25>stream'.
    private static bool IsPair(string subject, DeskProfile profile, IReadOnlySet<string> feeds) =>
        subject.Split('>') is [var from, var to] && profile.FindStrip(from) is not null && (profile.FindStrip(to) is not null || feeds.Contains(to));

    // Guards of one strip that ask for several times: 'input/25/fader@15s'.
    private static bool IsTimed(WaiverLine line, DeskProfile profile) =>
        line.Rule == "level-guard" && line.Subject.LastIndexOf('@') is > 0 and var at && profile.Find(line.Subject[..at]) >= 0;

    /// <summary>Warns of every waiver that is over.</summary>
    /// <param name="waivers">The plan's waivers.</param>
    /// <param name="today">The day where the show is.</param>
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
