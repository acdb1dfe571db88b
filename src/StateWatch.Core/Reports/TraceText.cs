using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>A trace as text: the answer in the first line, then the chain, or what stops it and the smallest change.</summary>
public static class TraceText
{
    private const int MostUnseen = 8;
    private const int MostConditions = 8;

    /// <summary>Writes the text, lines ended by <c>\n</c>.</summary>
    /// <param name="result">What was found.</param>
    /// <param name="colour">Whether to colour the answer; its word always stands there too.</param>
    /// <param name="width">Widest line in characters, at least 40.</param>
    public static string Write(TraceResult result, bool colour = false, int width = 100)
    {
        var page = new TextPage(width, colour);
        if (!result.HasDesk)
            WriteNoDesk(page, result);
        else if (result.Kind != TraceKind.Pair)
            TraceListText.Write(page, result);
        else
            WritePair(page, result, result.Pairs[0]);
        page.Add($"{(result.Subject.Origin == TraceOrigin.Plan ? "Computed from the plan; no desk was asked" : "Computed from what the desk tells, without a tone")}. Microphones, cables, amplifiers, rooms: unseen.", "", 3);
        if (result.ExitCode != 0)
            page.Add("Not sure? Call the engineer. Do not touch gain, phantom power or patch.", "", 3);
        return page.ToString();
    }

    internal static string Prefix(TraceResult result) => result.Subject.Origin switch
    {
        TraceOrigin.Plan => "AS PLANNED. ",
        TraceOrigin.VirtualDesk => "SIMULATED DESK. ",
        _ => "",
    };

    internal static void WriteUnseen(TextPage page, IReadOnlyList<string> unseen)
    {
        if (unseen.Count > 0)
            page.Add($"{string.Join(", ", unseen.Take(MostUnseen))}{(unseen.Count > MostUnseen ? $" and {unseen.Count - MostUnseen} more" : "")}.", "Not seen: ", 10);
    }

    private static void WriteNoDesk(TextPage page, TraceResult result)
    {
        var desk = $"{result.Subject.Plan.Profile.Desk} at {result.Subject.DeskAddress}";
        page.Add(result.Read!.End == ReadEnd.AnotherDesk
            ? $"{Prefix(result)}CANNOT TELL: another desk answered. Asked for: {desk}; what answers says it is '{PlainText.Clean(string.Join(" ", result.Read.Identity), 60)}'."
            : $"{Prefix(result)}CANNOT TELL: no answer from the desk. Asked for: {desk}.", "", 3, Tint.Urgent);
        page.Add("Is the desk on, the network cable in, the address right? With --as-planned the plan alone answers.", "", 3);
    }

    private static void WritePair(TextPage page, TraceResult result, TracePair pair)
    {
        var plan = result.Subject.Plan;
        var from = Words(plan, pair.From);
        page.Add(Prefix(result) + Head(pair, from), "", 3, pair.Answer switch
        {
            TraceAnswer.Carried when !pair.Faint => Tint.Good,
            TraceAnswer.Silent or TraceAnswer.Carried => Tint.Warning,
            _ => Tint.Urgent,
        });
        if (pair.Source is var (live, planned))
            page.Add($"{from} takes its signal from {PlainText.Clean(live, 60)}; the plan says {PlainText.Clean(planned, 60)}. What is traced here is another source. Call the engineer.", "But: ", 5, Tint.Warning);
        if (pair.Legs.Count > 1 && pair.Legs.Any(leg => leg.State != PairState.Closed))
            page.Add($"{string.Join("; ", pair.Legs.Select(leg => $"{TraceWords.Strip(plan, leg.Place)} {leg.State.Word()}{(leg.State == PairState.Carried ? $" {TraceWords.Level(leg.Level)}" : "")}"))}.", "Ends: ", 6);
        WriteUnseen(page, pair.Unseen);
        if (pair.Unseen.Count > 0 && pair.Answer == TraceAnswer.Carried)
            page.Add("One way was seen whole; the level may be another.", "", 3);
        var chains = new TraceChains(result, page);
        if (pair.Ways.Count > 0)
            chains.WriteOpen(pair);
        else if (pair.Answer == TraceAnswer.Silent)
            WriteSilence(page, result, pair, chains);
        if (pair.Conditions.Count > 0)
        {
            page.Add("May close or act by themselves; never counted as open or closed:", "", 3);
            foreach (var group in pair.Conditions.GroupBy(condition => condition.Strip).Take(MostConditions))
                page.Add($"{string.Join("; ", group.Select(condition => condition.Words))}.", $"   {TraceWords.Strip(plan, group.Key)}: ", 6);
        }
    }

    private static string Head(TracePair pair, string from) => pair.Answer switch
    {
        TraceAnswer.Carried => $"{(pair.Faint ? "HARDLY HEARD" : "CARRIED")}{Part(pair)}: {from} arrives at {pair.To.Key} at {TraceWords.Level(pair.Level)}"
            + (pair.Preamp == 0 ? "." : $" (preamp {TraceWords.Level(pair.Preamp)}, from there {TraceWords.Level(pair.Level - pair.Preamp)})."),
        TraceAnswer.Silent => pair.Legs.Any(leg => leg.State == PairState.Cancelled)
            ? $"SILENT: {from} goes to {pair.To.Key} by several ways that cancel each other. Call the engineer."
            : $"SILENT: nothing of {from} arrives at {pair.To.Key}.",
        TraceAnswer.Unstable => $"IT HOWLS: a way from {from} to {pair.To.Key} runs in a circle that gets louder each time round. Main faders down; call the engineer.",
        _ => $"CANNOT TELL whether {from} arrives at {pair.To.Key}: {pair.Unseen.Count} setting{(pair.Unseen.Count == 1 ? " that it depends on was" : "s that it depends on were")} not seen.",
    };

    private static string Part(TracePair pair) => pair.Legs.Count(leg => leg.State == PairState.Carried) is var ends && ends < pair.Legs.Count ? $" TO {ends} OF {pair.Legs.Count} ENDS" : "";

    private static void WriteSilence(TextPage page, TraceResult result, TracePair pair, TraceChains chains)
    {
        var plan = result.Subject.Plan;
        var from = Words(plan, pair.From);
        if (pair.ClosedWays.Count == 0)
            page.Add($"The plan makes no way from {from} to {pair.To.Key}.", "", 3);
        else
            chains.WriteClosed(pair);
        if (pair.Opening is not { } opening)
        {
            page.Add(pair.ClosedWays.Count == 0 ? "Nothing that the plan allows opens it. If it should be heard there, call the engineer."
                : pair.ClosedWays[0].Stops.Any(stop => stop.Kind == StageKind.Patch) ? "The patch is not as planned, and no patch is ever proposed. Call the engineer."
                : "No change was found: too much is shut, or something that is never proposed. Is the right show file loaded? Sweep first, and call the engineer.", "", 3, Tint.Strong);
            return;
        }

        page.Add($"{(opening.Exact ? "The smallest change that opens it" : "The smallest change that was found to open it")}: {opening.Changes.Count} setting{(opening.Changes.Count == 1 ? "" : "s")}.", "", 3);
        page.Add(opening.First, "   ", 6, Tint.Strong);
        foreach (var change in opening.Changes)
        {
            var why = change.AsPlanned ? $"as planned, {change.PlanAt}" : change.PlanAt is null ? "the plan does not say" : $"the plan says otherwise, {change.PlanAt}: call the engineer first";
            page.Add($"{TraceWords.Do(plan, change)} ({plan.Profile.Settings[change.Setting].Path} is {PlainText.Clean(change.Now, 60)}, then {change.Then}; {why}).", "   - ", 6);
        }

        if (opening.Opens.Count < pair.Legs.Count)
            page.Add($"This opens {opening.Opens.Count} of {pair.Legs.Count} ends: {string.Join(", ", opening.Opens.Select(place => TraceWords.Strip(plan, place)))}. Trace again for the others.", "   ", 6);
        if (opening.OpensBesides > 0)
            page.Add($"This also opens {opening.OpensBesides} other way{(opening.OpensBesides == 1 ? "" : "s")} from inputs to ends of feeds: their faders down first, too.", "   ", 6);
        page.Add("Then slowly up, listening; down at the first ring. No feedback margin is computed here.", "   ", 6);
    }

    internal static string Words(ShowPlan plan, TraceSource source) => TraceWords.Name(plan, source.Path) is null ? PlainText.Clean(source.Name, 60) : TraceWords.Strip(plan, source.Path);
}
