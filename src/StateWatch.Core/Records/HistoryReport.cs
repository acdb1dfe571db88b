using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Records;

/// <summary>What a history is asked about.</summary>
[Flags]
public enum HistoryParts
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>When shows were, and how they went.</summary>
    Shows = 1,

    /// <summary>Which settings changed.</summary>
    Changes = 2,

    /// <summary>Findings that stood.</summary>
    Findings = 4,

    /// <summary>How much of the plan was seen.</summary>
    Coverage = 8,

    /// <summary>How many alarms people were given.</summary>
    Load = 16,

    /// <summary>All of it.</summary>
    All = 31,
}

/// <summary>Everything that was read of a history to answer a question.</summary>
/// <param name="Shows">The journal of shows from its beginning to the end of the time asked about.</param>
/// <param name="Coverage">Samples of coverage; of shows, from their beginning too.</param>
/// <param name="Changes">Changes of settings in the time.</param>
/// <param name="Events">The journal of findings from its beginning.</param>
/// <param name="Announcements">Announcements; of shows, from their beginning too.</param>
/// <param name="Findings">Findings as they are stored.</param>
public sealed record HistoryLines(
    IReadOnlyList<RecordedShowEvent> Shows, IReadOnlyList<RecordedCoverage> Coverage, IReadOnlyList<RecordedChange> Changes,
    IReadOnlyList<LedgerEvent> Events, IReadOnlyList<RecordedAnnouncement> Announcements, IReadOnlyList<RecordedFinding> Findings);

/// <summary>A question to a history.</summary>
/// <param name="At">The moment of asking.</param>
/// <param name="Place">Where the history is.</param>
/// <param name="Desk">site/desk, or null for all desks.</param>
/// <param name="Time">The time asked about.</param>
/// <param name="Parts">What is asked.</param>
public sealed record HistoryQuestion(DateTimeOffset At, string Place, string? Desk, TimeStretch Time, HistoryParts Parts)
{
    /// <summary>The show whose time it is, or null.</summary>
    public ShowPeriod? Show { get; init; }

    /// <summary>Whether a show was asked for and none is recorded, so that the time is the last day of the record.</summary>
    public bool IsWithoutShow { get; init; }
}

/// <summary>How one show went.</summary>
/// <param name="Period">When it was.</param>
/// <param name="Findings">Findings raised in it.</param>
/// <param name="Urgent">Urgent ones among them.</param>
/// <param name="Alarms">Alarms in it.</param>
/// <param name="WorstCoverage">The least share of the plan that was seen, 0 to 1; null when it was never looked at.</param>
public sealed record ShowSummary(ShowPeriod Period, int Findings, int Urgent, int Alarms, double? WorstCoverage);

/// <summary>The answer: the one object that text, JSON and CSV are written from. What was not asked for is empty.</summary>
/// <param name="Question">The question.</param>
public sealed record HistoryReport(HistoryQuestion Question)
{
    /// <summary>Shows that were going on at some time in it.</summary>
    public IReadOnlyList<ShowSummary> Shows { get; init; } = [];

    /// <summary>What happened to the shows and the watch in it.</summary>
    public IReadOnlyList<RecordedShowEvent> Happenings { get; init; } = [];

    /// <summary>Strips of which something changed.</summary>
    public IReadOnlyList<StripMove> Changes { get; init; } = [];

    /// <summary>Findings that stood.</summary>
    public IReadOnlyList<FindingEpisode> Findings { get; init; } = [];

    /// <summary>Coverage, a desk each.</summary>
    public IReadOnlyList<CoverageRecord> Coverage { get; init; } = [];

    /// <summary>The alarm load of all desks asked about together: it is one person who is called.</summary>
    public AlarmLoad Load { get; init; } = new(TimeSpan.Zero, 0);

    /// <summary>Answers a question.</summary>
    public static HistoryReport Of(HistoryQuestion question, HistoryLines lines)
    {
        var (from, to) = question.Time;
        var announced = lines.Announcements.Where(told => told.At >= from && told.At < to).ToList();
        var episodes = FindingEpisodes.Of(lines.Events, lines.Announcements, lines.Findings, from, to);
        var samples = lines.Coverage.Where(one => one.Sample.At >= from && one.Sample.At < to).ToList();
        var names = NamesOf(lines);
        return new HistoryReport(question)
        {
            Shows = question.Parts.HasFlag(HistoryParts.Shows) ? [.. ShowsOf(lines, question)] : [],
            Happenings = question.Parts.HasFlag(HistoryParts.Shows) ? [.. lines.Shows.Where(line => line.Event.At >= from && line.Event.At < to)] : [],
            Changes = StripChanges.Of(lines.Changes.Where(one => one.Change.At >= from && one.Change.At < to), names),
            Findings = question.Parts.HasFlag(HistoryParts.Findings) ? episodes : [],
            Coverage = question.Parts.HasFlag(HistoryParts.Coverage)
                ? [.. samples.GroupBy(static one => one.Desk, StringComparer.Ordinal).OrderBy(static desk => desk.Key, StringComparer.Ordinal).Select(desk => CoverageRecord.Of(desk.Key, [.. desk], from, to))] : [],
            Load = question.Parts.HasFlag(HistoryParts.Load) ? LoadOf(lines, announced, episodes, question.Time) : new AlarmLoad(TimeSpan.Zero, 0),
        };
    }

    private static AlarmLoad LoadOf(HistoryLines lines, List<RecordedAnnouncement> announced, IReadOnlyList<FindingEpisode> episodes, TimeStretch time)
    {
        var alarms = announced.Where(static told => told.IsAlarm).Select(static told => new Alarm(told.At, told.Key, told.Level.Severity)).ToList();
        var traces = lines.Coverage.Select(static one => one.Sample.At).Concat(lines.Shows.Select(static line => line.Event.At)).Concat(announced.Select(static told => told.At));
        var events = lines.Events.Where(line => line.At.Wall >= time.From && line.At.Wall < time.To);
        return AlarmLoad.Of(alarms, episodes, events, WatchedSpans.Of(traces, time.From, time.To));
    }

    private static IEnumerable<ShowSummary> ShowsOf(HistoryLines lines, HistoryQuestion question)
    {
        foreach (var show in ShowPeriods.Of(lines.Shows, lines.Coverage, question.At))
        {
            var end = show.Ended ?? question.At;
            if (show.Began >= question.Time.To || end < question.Time.From)
                continue;
            var raised = FindingEpisodes.Of(lines.Events, lines.Announcements, lines.Findings, show.Began, end).Where(episode => episode.Desk == show.Desk && episode.Raised >= show.Began).ToList();
            var alarms = lines.Announcements.Count(told => told.IsAlarm && told.Desk == show.Desk && told.At >= show.Began && told.At < end);
            var seen = CoverageRecord.Of(show.Desk, [.. lines.Coverage.Where(one => one.Desk == show.Desk && one.Sample.At >= show.Began && one.Sample.At < end)], show.Began, end);
            yield return new ShowSummary(show, raised.Count, raised.Count(static episode => episode.Severity == Severity.Urgent), alarms, seen.Whole.Worst);
        }
    }

    // Changes carry paths only; whoever was told of a strip was told its planned name.
    private static Dictionary<string, string> NamesOf(HistoryLines lines)
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (desk, words) in lines.Findings.Select(static one => (FindingKeys.DeskOf(one.Record.Key), one.Words)).Concat(lines.Announcements.Select(static one => (one.Desk, one.Words))))
        {
            if (words is { Strip: { } strip, Name: { } name })
                names[$"{desk}/{strip}"] = name;
        }

        return names;
    }
}
