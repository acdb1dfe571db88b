namespace StateWatch.Core.Reports;

/// <summary>A trace with one end only: a list, strongest first.</summary>
internal static class TraceListText
{
    private const int MostNamed = 60;

    public static void Write(TextPage page, TraceResult result)
    {
        var reach = result.Kind == TraceKind.Reach;
        var plan = result.Subject.Plan;
        var heard = Of(result, TraceAnswer.Carried);
        if (result.Pairs.Count == 0)
        {
            page.Add($"{TraceText.Prefix(result)}The plan names no {(reach ? "feed that leaves the desk" : "input")}.", "", 3, Tint.Warning);
            return;
        }

        var one = result.Pairs[0];
        page.Add(TraceText.Prefix(result) + (reach
            ? $"{TraceText.Words(plan, one.From)} reaches {heard.Count} of {result.Pairs.Count} feeds{(heard.Count == 0 ? "." : ", strongest first:")}"
            : $"{heard.Count} of {result.Pairs.Count} planned inputs arrive at {one.To.Key}{(heard.Count == 0 ? "." : ", strongest first:")}"), "", 3, heard.Count > 0 ? Tint.Good : Tint.Warning);
        foreach (var pair in heard)
        {
            var shut = pair.Legs.Where(leg => leg.State != Routing.PairState.Carried).Select(leg => TraceWords.Strip(plan, leg.Place)).ToList();
            page.Add($"{Other(pair)}{(pair.Faint ? ": hardly heard" : "")}{(shut.Count == 0 ? "" : $"; nothing at {string.Join(", ", shut)}")}", $"{TraceWords.Level(pair.Level),12}  ", 14);
        }

        if (heard.Any(pair => pair.Preamp != 0))
            page.Add("Levels are counted from the socket: the preamp's gain is in them.", "", 3);
        foreach (var pair in Of(result, TraceAnswer.Unstable))
            page.Add($"{Other(pair)} runs in a circle that gets louder each time round. Main faders down; call the engineer.", "IT HOWLS: ", 10, Tint.Urgent);
        foreach (var pair in Of(result, TraceAnswer.CannotTell))
        {
            page.Add(Other(pair), "Cannot tell: ", 13, Tint.Warning);
            TraceText.WriteUnseen(page, pair.Unseen);
        }

        var silent = Of(result, TraceAnswer.Silent);
        if (silent.Count > 0)
            page.Add($"{string.Join(", ", silent.Take(MostNamed).Select(Other))}{(silent.Count > MostNamed ? $" and {silent.Count - MostNamed} more" : "")}.", reach ? "Not at: " : "Not from: ", 10);

        string Other(TracePair pair) => reach ? pair.To.Key : TraceText.Words(plan, pair.From);
    }

    private static List<TracePair> Of(TraceResult result, TraceAnswer answer) => [.. result.Pairs.Where(pair => pair.Answer == answer)];
}
