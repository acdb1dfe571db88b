using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Reports;

/// <summary>
/// A sweep in the volunteer's voice, for reading at arm's length shortly before the show. The first ten lines say whether it is ready,
/// what to fix first, which feeds are ready, how much was seen, what to try and whom to call; the rest follows below.
/// </summary>
public static class VolunteerText
{
    /// <summary>How many lines the most important things get.</summary>
    public const int TopLines = 10;

    private const int MostFixesOnTop = 5;

    /// <summary>Writes the text, lines ended by <c>\n</c>.</summary>
    /// <param name="result">What was found.</param>
    /// <param name="colour">Whether to colour the verdict; its words always stand there too.</param>
    /// <param name="width">Widest line in characters, at least 40.</param>
    public static string Write(SweepResult result, bool colour = false, int width = 100)
    {
        var page = new TextPage(width, colour);
        if (result.Read.End is ReadEnd.Silent or ReadEnd.AnotherDesk || result.Planned == 0)
        {
            NothingReadText.Write(page, result);
            ByEyeList.Write(page, result.ByEye, "LOOK YOURSELF, NO DESK CAN TELL");
            VolunteerRest.WriteFooter(page, result);
            return page.ToString();
        }

        var known = KnownFaults.Of(result);
        var causes = CauseOrder.Sorted(known.Open);
        var fixes = causes.Where(cause => cause.Severity >= Severity.Warning).ToList();
        var shown = WriteTop(page, result, fixes, known);
        ByEyeList.Write(page, result.ByEye, "LOOK YOURSELF, NO DESK CAN TELL");
        VolunteerRest.Write(page, result, fixes, [.. causes.Where(cause => cause.Severity < Severity.Warning)], shown);
        known.Write(page);
        VolunteerRest.WriteFooter(page, result);
        return page.ToString();
    }

    private static int WriteTop(TextPage page, SweepResult result, List<Cause> fixes, KnownFaults known)
    {
        List<string> tail = [Feeds(result), Seen(result)];
        if (TryOut.Of(result, page.Width, fixes.Count > 0) is { } test)
            tail.Add(test.Line);
        tail.Add("Not sure? Call the engineer. Do not touch gain, phantom power or patch.");
        if (Check(result) is { } check)
            tail.Insert(0, check);
        var room = TopLines - tail.Sum(line => page.Count(line, "", 3));
        var lines = fixes.Take(MostFixesOnTop).Select(VolunteerWords.Line).ToList();
        var shown = lines.Count;
        while (shown > 1 && page.Count(Headline(result, fixes, shown, known), "", 3) + lines.Take(shown).Select((line, i) => page.Count(line, Number(i), 4)).Sum() > room)
            shown--;

        page.Add(Headline(result, fixes, shown, known), "", 3, result.Verdict == Verdict.AsPlanned ? Tint.Good : Tint.Urgent);
        for (var i = 0; i < shown; i++)
            page.Add(lines[i], Number(i), 4);
        foreach (var line in tail)
            page.Add(line, "", 3);
        return shown;
    }

    /// <summary>What stands before a fix: its number.</summary>
    internal static string Number(int index) => string.Create(CultureInfo.InvariantCulture, $"{index + 1,2}. ");

    private static string Headline(SweepResult result, List<Cause> fixes, int shown, KnownFaults known)
    {
        var simulated = (result.Subject.Simulated ? "SIMULATED DESK. " : "") + (result.Subject.Plan.Cue is { } cue ? $"Cue {cue.Name}. " : "");
        var urgent = fixes.Count(cause => cause.Severity == Severity.Urgent);
        var stopped = result.Read.End == ReadEnd.FellSilent;
        if (fixes.Count == 0)
        {
            var found = known.Serious > 0 ? $"new was found to fix ({known.Count}, listed below)" : "wrong was found";
            return simulated + (result.Complete
                ? known.Serious > 0 ? $"NOTHING NEW TO FIX, BUT NOT AS PLANNED: {known.Count}, listed below."
                : $"READY: {(result.Audit.Findings.Count == 0 ? "everything is as planned." : $"nothing to fix; {Sentences.Count(result.Audit.Causes.Count, "thing")} to know below.")}"
                : stopped ? $"THE DESK STOPPED ANSWERING: nobody can say whether it is ready. Nothing {found} until then."
                : $"NOT CERTAIN: {Sentences.Count(result.Planned - result.Verified, "setting")} could not be read. Nothing {found} in the rest.");
        }

        var start = stopped ? "THE DESK STOPPED ANSWERING. NOT READY" : result.Complete ? "NOT READY" : "NOT READY, AND NOT ALL WAS READ";
        var count = urgent == fixes.Count ? fixes.Count == 1 ? ", urgent" : ", all urgent" : urgent == 0 ? ", none urgent" : $", {urgent} urgent";
        var more = shown < fixes.Count ? $" The first {Words(shown)} here, and {fixes.Count - shown} more below." : "";
        if (known.Serious > 0)
            more += $" Also {known.Count}, listed below.";
        return $"{simulated}{start}: {Sentences.Count(fixes.Count, "thing")} to fix{count}.{more}";
    }

    private static string Words(int number) => number switch { 1 => "one", 2 => "two", 3 => "three", 4 => "four", _ => "five" };

    private static string? Check(SweepResult result) => result.Complete ? null
        : result.Read.End == ReadEnd.FellSilent ? "Check network cable and desk, then run the sweep again; until all is read, more may be wrong."
        : "Check that every stage box is on and connected, then run the sweep again.";

    private static string Feeds(SweepResult result)
    {
        var feeds = FeedReadiness.Of(result);
        var parts = new List<string>();
        foreach (var (state, words) in ((FeedState, string)[])[(FeedState.NotReady, "not ready"), (FeedState.NotSeen, "not certain"), (FeedState.Ready, "ready")])
        {
            var names = feeds.Where(status => status.State == state).Select(status => status.Feed.Key).ToList();
            if (names.Count > 0)
                parts.Add($"{words}: {(names.Count == feeds.Count && names.Count > 1 ? $"all {names.Count} ({string.Join(", ", names)})" : string.Join(", ", names))}");
        }

        return parts.Count == 0 ? "The plan names no feed." : $"Feeds {string.Join("; ", parts)}.";
    }

    private static string Seen(SweepResult result) => result.Verified == result.Planned
        ? $"Seen: 100 %, all {result.Planned:N0} planned settings. Never seen: batteries, switches, amplifiers."
        : $"Seen: {VolunteerWords.Percent(result)}, {result.Verified:N0} of {result.Planned:N0} planned settings. Never seen: batteries, switches, amplifiers.";
}
