using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Reports;

/// <summary>A sweep for the engineer: counts, every finding with its id and plan line, coverage, the link, and what was not done.</summary>
public static class EngineerText
{
    private const int MostFolded = 8;

    /// <summary>Writes the text, lines ended by <c>\n</c>.</summary>
    /// <param name="result">What was found.</param>
    /// <param name="colour">Whether to colour severities; their words always stand there too.</param>
    /// <param name="width">Widest line in characters, at least 40; paths and ids are not broken unless they are longer.</param>
    public static string Write(SweepResult result, bool colour = false, int width = 100)
    {
        var page = new TextPage(width, colour);
        WriteHead(page, result);
        var waivers = result.Waivers.Where(status => status.Finding is not null).ToDictionary(status => status.Line.Finding.Text, StringComparer.Ordinal);
        foreach (var cause in CauseOrder.Sorted(result.Audit.Causes))
            WriteCause(page, cause, waivers);
        EngineerWaivers.Write(page, result.Waivers);
        EngineerMargins.Write(page, result.Audit.Margins);
        EngineerRatios.Write(page, result.Audit.Ratios);
        EngineerCoverage.Write(page, result);
        ByEyeList.Write(page, result.ByEye, "By eye, which no desk can tell");
        WriteFooter(page);
        return page.ToString();
    }

    private static void WriteHead(TextPage page, SweepResult result)
    {
        var subject = result.Subject;
        var findings = result.Audit.Findings;
        page.Add($"Verdict: {Verdict(result)} (exit code {result.ExitCode})", "", 3, result.Verdict switch
        {
            Reports.Verdict.AsPlanned => Tint.Good,
            Reports.Verdict.Warnings => Tint.Warning,
            _ => Tint.Urgent,
        });
        page.Add($"{subject.Plan.Show}, phase {Plans.Phases.Word(subject.Plan.Phase)}{(subject.Plan.Cue is { } cue ? $", cue {cue.Name}" : "")}, {SweepWords.Time(subject.At)}", "Show:     ", 10);
        page.Add($"{subject.Plan.Profile.Desk} at {subject.DeskAddress}{(subject.Simulated ? " -- a SIMULATED desk, not the real one" : "")}"
            + (result.Read.Identity.Count > 0 ? $"; says it is '{string.Join(" ", result.Read.Identity)}'" : ""), "Desk:     ", 10);
        page.Add($"{Count(findings, Severity.Urgent)} urgent, {Count(findings, Severity.Warning)} warning, {Count(findings, Severity.Notice)} notice; "
            + $"{Sentences.Count(result.Audit.Causes.Count, "cause")}; {result.Audit.Evaluated:N0} checks made, {result.Audit.CannotTell.Count:N0} cannot tell"
            + (result.Waivers.Count(status => status.Counts) is > 0 and var waived ? $"; {waived:N0} waived, which changes no verdict" : ""), "Findings: ", 10);
        page.Add($"{result.Verified:N0} of {result.Planned:N0} planned settings verified ({VolunteerWords.Percent(result)})", "Coverage: ", 10);
        page.Add($"{result.Read.Answered:N0} of {result.Read.Questions:N0} questions answered; {EndWords(result.Read.End)}", "Read:     ", 10);
    }

    private static string Verdict(SweepResult result) => result.Verdict switch
    {
        Reports.Verdict.AsPlanned => "as planned",
        Reports.Verdict.Warnings => "warnings or notices",
        Reports.Verdict.Urgent => result.Complete ? "urgent" : "urgent, and not everything could be verified",
        _ => "incomplete: not everything could be verified",
    };

    private static string EndWords(ReadEnd end) => end switch
    {
        ReadEnd.Complete => "complete",
        ReadEnd.Partial => "partial: some questions were never answered",
        ReadEnd.Silent => "failed: the desk never answered",
        ReadEnd.FellSilent => "broken off: the desk fell silent",
        _ => "refused: another desk answered",
    };

    private static void WriteCause(TextPage page, Cause cause, Dictionary<string, WaiverStatus> waivers)
    {
        page.Blank();
        page.Add($"{cause.Severity.Word().ToUpperInvariant()}: {cause.Text}", "", 3, cause.Severity switch
        {
            Severity.Urgent => Tint.Urgent,
            Severity.Warning => Tint.Warning,
            _ => Tint.Strong,
        });
        foreach (var finding in cause.Told)
        {
            if (cause.Told.Count > 1)
                page.Add(finding.Words.What, "   - ", 5);
            page.Add(finding.Id, "     id    ", 11);
            page.Add($"planned {finding.Planned ?? "nothing"}, live {(finding.Live.Length == 0 ? "(empty)" : finding.Live)}"
                + (finding.PlanAt is { } at ? $"; {at}" : "; no plan line"), "     plan  ", 11);
            if (waivers.TryGetValue(finding.Id, out var waiver))
                page.Add(waiver.Words, "     known ", 11);
        }

        foreach (var why in cause.Told.Select(finding => finding.Words.Why).Distinct())
            page.Add(why, "     why   ", 11);
        var remedies = cause.Told.Select(finding => finding.Words.Do).Distinct().ToList();
        page.Add(remedies[0] + (remedies.Count > 1 ? " The others likewise." : ""), "     do    ", 11);
        WriteFolded(page, cause.Folded);
    }

    // A few are named; of hundreds only the kinds are counted, as none of them can be trusted. The JSON lists all.
    private static void WriteFolded(TextPage page, IReadOnlyList<Finding> folded)
    {
        if (folded.Count == 0)
            return;
        var list = folded.Count <= MostFolded ? folded.Select(finding => finding.Id)
            : folded.GroupBy(finding => finding.Rule.Id).OrderByDescending(group => group.Count()).ThenBy(group => group.Key, StringComparer.Ordinal).Select(group => $"{group.Key} {group.Count():N0}");
        page.Add($"{Sentences.Count(folded.Count, "finding")} that follow from it: {string.Join(", ", list)}. Put it right, then sweep again.", "     folds ", 11);
    }

    private static void WriteFooter(TextPage page)
    {
        page.Blank();
        page.Add("The sweep sends no tone and hears nothing; it asks the desk and changes nothing.");
        page.Add("Margins and ratios are advice: a cupped grille, a hat, somebody before the loudspeakers or an amplifier knob changes them by 10 dB unseen. Sudden level can injure hearing.");
        page.Add("Published limits for ears: 85 dB(A) for 8 hours a day, each 3 dB more halves the time (NIOSH 98-126); at venues 100 dB LAeq over 15 minutes (WHO global standard for venues and events, 2022). Local codes come first.");
        page.Add("It knows only the desk: loudspeakers, amplifiers, microphones, batteries and people are unseen. Ears, a sound level meter, "
            + "local codes and licensed practice decide. It protects nobody by itself: independent means must exist.");
    }

    private static int Count(IReadOnlyList<Finding> findings, Severity severity) => findings.Count(finding => finding.Severity == severity);
}
