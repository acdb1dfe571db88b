using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Reports;

/// <summary>What no desk can tell, as lines of a checklist; outside of coverage, and without a say in the verdict.</summary>
public static class ByEyeList
{
    /// <summary>The lines: sentences first, then settings that the profile does not map, those of the plan's phase and cue last; none twice.</summary>
    public static IReadOnlyList<string> Of(ShowPlan plan)
    {
        var document = plan.Document;
        var settings = document.ByEyeSettings.Concat(document.PhaseLines.Where(line => line.Phase == plan.Phase).SelectMany(line => line.ByEyeSettings))
            .Concat(document.Cues.Where(line => line.Key.Text == plan.Cue?.Name).SelectMany(line => line.ByEyeSettings)).ToList();
        var coils = Coils(plan);
        if (document.ByEye.Count == 0 && settings.Count == 0 && coils is null)
            return [];
        var facts = new AuditFacts(plan);
        return [.. document.ByEye.Select(line => line.Text).Concat(settings.Select(item => Words(item, facts))).Concat(coils is null ? [] : [coils]).Distinct(StringComparer.Ordinal)];
    }

    // A loop's field goes round every desk: no setting tells, and none could cure it. Common practice, no source.
    private static string? Coils(ShowPlan plan)
    {
        const int MostNames = 4;
        var roles = plan.Document.Roles.Where(role => role.Pickup).Select(role => role.Key.Text).ToHashSet(StringComparer.Ordinal);
        if (roles.Count == 0 || plan.Feeds.All(feed => feed.Purpose != Purpose.HearingLoop))
            return null;
        var names = plan.Strips.Where(strip => roles.Contains(strip.Role)).Select(strip => strip.Name).ToList();
        return names.Count == 0 ? null : $"Hearing loop on: nothing howls or hums in {Sentences.Few(names, MostNames)} (coils inside a loop can)";
    }

    internal static void Write(TextPage page, IReadOnlyList<string> lines, string title)
    {
        if (lines.Count == 0)
            return;
        page.Blank();
        page.Add(title);
        foreach (var line in lines)
            page.Add(line, "  [ ] ", 6);
    }

    // "Lectern (input 25): polarity is on", "Input 1-8: comp is on" for input/1-8/comp/on, "Lectern (input 25) is on".
    private static string Words(ByEyeSetting item, AuditFacts facts)
    {
        var words = item.Path.Text.Split('/').ToList();
        var head = words[0] == "desk" ? 1 : 2;
        var strip = facts.Profile.FindStrip(string.Join('/', words.Take(head)));
        var name = strip is null ? Sentences.Capital(string.Join(' ', words.Take(head))) : facts.Opening(strip, facts.Words(strip));
        var rest = words.Skip(head).ToList();
        if (rest[^1] == "on")
            rest.RemoveAt(rest.Count - 1);
        return $"{name}{(rest.Count > 0 ? ": " + string.Join(' ', rest) : "")} is {item.Be.Text}";
    }
}
