using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Reports;

/// <summary>What a volunteer can try: one open microphone, and where it must be heard.</summary>
/// <param name="Line">The sentence.</param>
/// <param name="Also">Feeds that did not fit into it.</param>
internal sealed record TryOut(string Line, IReadOnlyList<string> Also)
{
    private static readonly Purpose[] Order = [Purpose.Room, Purpose.Stream, Purpose.Overflow, Purpose.HearingLoop, Purpose.FrontFill, Purpose.Record];

    /// <summary>The try-out of a plan, or null when it names no open microphone that reaches a listener.</summary>
    /// <param name="result">What was found; a microphone without findings is preferred.</param>
    /// <param name="width">Widest line in characters.</param>
    /// <param name="first">Whether something is to be fixed first.</param>
    public static TryOut? Of(SweepResult result, int width, bool first)
    {
        var plan = result.Subject.Plan;
        var reach = new PlannedReach(plan);
        var troubled = result.Audit.Findings.Where(finding => finding.Severity >= Severity.Warning).Select(finding => finding.Strip).ToHashSet(StringComparer.Ordinal);
        var best = plan.Strips
            .Where(strip => strip.OpenMic && strip.Strip.Kind == "input" && plan.Cue?.ClosingOf(strip.Strip.Id) is null)
            .Select(strip => (Strip: strip, Feeds: Names(reach.FeedsOf(strip.Strip.Path))))
            .Where(item => item.Feeds.Count > 0)
            .OrderBy(item => troubled.Contains(item.Strip.Strip.Path))
            .ThenBy(item => plan.Cue?.OpeningOf(item.Strip.Strip.Id) is null)
            .ThenByDescending(item => item.Strip.Role == "talker")
            .ThenByDescending(item => item.Feeds.Count)
            .ThenBy(item => item.Strip.Strip.Id)
            .FirstOrDefault();
        if (best.Strip is null)
            return null;
        var facts = new AuditFacts(plan);
        var start = $"{(first ? "Then" : "Try")}: fader down, say \"one two\" into {facts.Words(best.Strip.Strip)}, slowly up; listen in ";
        var fit = 1;
        while (fit < best.Feeds.Count && start.Length + string.Join(", ", best.Feeds.Take(fit + 1)).Length < width)
            fit++;
        return new TryOut($"{start}{string.Join(", ", best.Feeds.Take(fit))}.", [.. best.Feeds.Skip(fit)]);
    }

    private static List<string> Names(IReadOnlySet<Feed> feeds) =>
        [.. feeds.Where(feed => Array.IndexOf(Order, feed.Purpose) >= 0).OrderBy(feed => Array.IndexOf(Order, feed.Purpose)).ThenBy(feed => feed.Key, StringComparer.Ordinal).Select(feed => feed.Key)];
}
