using StateWatch.Core.Auditing;

namespace StateWatch.Core.Reports;

/// <summary>What stands below the volunteer's first ten lines.</summary>
internal static class VolunteerRest
{
    private const int MostMembers = 24;

    public static void Write(TextPage page, SweepResult result, IReadOnlyList<Cause> fixes, IReadOnlyList<Cause> notices, int shown)
    {
        if (fixes.Count > shown)
        {
            page.Blank();
            page.Add("MORE TO FIX");
            for (var i = shown; i < fixes.Count; i++)
                page.Add(VolunteerWords.Line(fixes[i]), VolunteerText.Number(i), 4);
        }

        WriteMembers(page, result, fixes);
        WriteFolded(page, fixes);
        if (notices.Count > 0)
        {
            page.Blank();
            page.Add("GOOD TO KNOW, NOTHING TO FIX NOW");
            foreach (var cause in notices)
                page.Add(cause.Text + ".", "  - ", 4);
        }

        WriteUnseen(page, result);
        if (TryOut.Of(result, page.Width, fixes.Count > 0) is { Also.Count: > 0 } test)
        {
            page.Blank();
            page.Add($"Listen there too when you try it: {string.Join(", ", test.Also)}.");
        }
    }

    public static void WriteFooter(TextPage page, SweepResult result)
    {
        var subject = result.Subject;
        page.Blank();
        page.Add($"{subject.Plan.Show}, {subject.Plan.Profile.Desk} at {subject.DeskAddress}{(subject.Simulated ? " (simulated)" : "")}, "
            + $"for {Plans.Phases.Word(subject.Plan.Phase)}{(subject.Plan.Cue is { } cue ? $" at cue {cue.Name}" : "")}, {SweepWords.Time(subject.At)}.");
        page.Add("Only the desk was read: nothing changed, no sound sent, nothing listened to. Your ears decide.");
        page.Add("Squeals, or too loud? Pull down the fader you moved last. Loud sound can hurt hearing at once.");
    }

    private static void WriteMembers(TextPage page, SweepResult result, IReadOnlyList<Cause> fixes)
    {
        var grouped = fixes.Select((cause, index) => (cause, index)).Where(item => !VolunteerWords.IsOneThing(item.cause)).ToList();
        if (grouped.Count == 0)
            return;
        page.Blank();
        page.Add("WHICH ONES");
        foreach (var (cause, index) in grouped)
        {
            var members = cause.Told.Select(finding => Member(result, finding, cause)).Distinct().ToList();
            var more = members.Count > MostMembers ? $" and {members.Count - MostMembers} more" : "";
            page.Add(string.Join("; ", members.Take(MostMembers)) + more + ".", VolunteerText.Number(index), 4);
        }
    }

    // Whoever puts the root right would only be kept busy by what follows from it.
    private static void WriteFolded(TextPage page, IReadOnlyList<Cause> fixes)
    {
        if (fixes.All(cause => cause.Folded.Count == 0))
            return;
        page.Blank();
        page.Add("WHAT FOLLOWS FROM THESE IS NOT LISTED");
        for (var i = 0; i < fixes.Count; i++)
        {
            if (fixes[i].Folded.Count > 0)
                page.Add($"explains {Sentences.Count(fixes[i].Folded.Count, "more difference")}. When it is put right, run the sweep again.", VolunteerText.Number(i), 4);
        }
    }

    private static string Member(SweepResult result, Finding finding, Cause cause)
    {
        if (cause.Told.Select(item => item.Strip).Distinct().Count() == 1)
            return finding.Words.What;
        var place = result.Subject.Plan.Profile.FindStrip(finding.Strip) is { } strip ? AuditFacts.Place(strip) : finding.Strip;
        return finding.Name is null || finding.Name == finding.Strip ? place : $"{finding.Name} ({place})";
    }

    private static void WriteUnseen(TextPage page, SweepResult result)
    {
        if (result.Unseen.Count == 0)
            return;
        page.Blank();
        page.Add("COULD NOT BE READ, SO NOBODY KNOWS");
        foreach (var group in result.Unseen.GroupBy(unseen => (Kind(result, unseen.Setting), unseen.Reason)).OrderByDescending(group => group.Count()).Take(8))
            page.Add($"{group.Key.Item1}: {Sentences.Count(group.Count(), "setting")} ({group.Key.Reason})", "  - ", 4);
    }

    private static string Kind(SweepResult result, string path)
    {
        var profile = result.Subject.Plan.Profile;
        var kind = profile.Settings[profile.Find(path)].Kind;
        return kind.StripKind == "desk" ? kind.Words : $"{kind.Words} of {kind.StripKind switch
        {
            "fx-return" => "effect returns",
            "dca" => "DCAs",
            "mute-group" => "mute groups",
            "mix" => "mixes",
            "matrix" => "matrices",
            var other => other + "s",
        }}";
    }
}
