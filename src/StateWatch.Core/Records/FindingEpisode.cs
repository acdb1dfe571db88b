using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Records;

/// <summary>One time that a finding was raised.</summary>
/// <param name="Key">site/desk/rule:subject.</param>
/// <param name="Episode">Number of the episode.</param>
/// <param name="Raised">When it was raised.</param>
public sealed record FindingEpisode(string Key, int Episode, DateTimeOffset Raised)
{
    /// <summary>When it was cleared for good; null while it stands.</summary>
    public DateTimeOffset? Cleared { get; init; }

    /// <summary>Why it was cleared: <c>recovered</c>, <c>plan-changed</c>, <c>phase-changed</c>; null while it stands.</summary>
    public string? ClearedFor { get; init; }

    /// <summary>How often it came back before it was cleared for good.</summary>
    public int Relapses { get; init; }

    /// <summary>Who first acknowledged it; null when nobody did.</summary>
    public string? AcknowledgedBy { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset? AcknowledgedAt { get; init; }

    /// <summary>How much it mattered at most, as far as that was told or stored; null when it was neither.</summary>
    public Severity? Severity { get; init; }

    /// <summary>What people were told of it first, or what was last said; null when nothing was.</summary>
    public AlertWords? Words { get; init; }

    /// <summary>How often it was announced as an alarm.</summary>
    public int Alarms { get; init; }

    /// <summary>What kept it from being told at some time, in the order in which that began: <c>inhibited</c> (part of a bulk change), <c>shelved</c>, <c>expected</c>, <c>damped</c>, <c>out-of-service</c>, <c>settling</c>.</summary>
    public IReadOnlyList<string> Holds { get; init; } = [];

    /// <summary>Whether it was told only as part of a bulk change.</summary>
    public bool IsFolded => Alarms == 0 && Holds.Contains("inhibited");

    /// <summary>site/desk.</summary>
    public string Desk => FindingKeys.DeskOf(Key);

    /// <summary>How long it stood, up to a moment when it still does.</summary>
    public TimeSpan Stood(DateTimeOffset until) => (Cleared ?? until) is var end && end > Raised ? end - Raised : TimeSpan.Zero;
}

/// <summary>Parts of keys.</summary>
public static class FindingKeys
{
    /// <summary>site/desk of a key that begins with it.</summary>
    public static string DeskOf(string key)
    {
        var first = key.IndexOf('/', StringComparison.Ordinal);
        var second = first < 0 ? -1 : key.IndexOf('/', first + 1);
        return second < 0 ? key : key[..second];
    }

    /// <summary>rule:subject of a key.</summary>
    public static string IdOf(string key) => DeskOf(key) is var desk && desk.Length < key.Length ? key[(desk.Length + 1)..] : key;
}

/// <summary>Makes episodes of the journal.</summary>
public static class FindingEpisodes
{
    /// <summary>The episodes that stood at some time between two moments, in the order in which they were raised.</summary>
    /// <param name="events">The journal from its beginning to the second moment, in order.</param>
    /// <param name="announcements">What was announced in that time, in order; severity and words come from it.</param>
    /// <param name="findings">Findings as they are stored; severity and words where nothing was announced.</param>
    /// <param name="from">The first moment.</param>
    /// <param name="to">The second.</param>
    public static IReadOnlyList<FindingEpisode> Of(
        IEnumerable<LedgerEvent> events, IEnumerable<RecordedAnnouncement> announcements, IEnumerable<RecordedFinding> findings, DateTimeOffset from, DateTimeOffset to)
    {
        var episodes = new Dictionary<(string, int), FindingEpisode>();
        var holds = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        foreach (var line in events)
        {
            var key = (line.Key, line.Episode);
            if (line.Kind is LedgerEventKind.HoldBegan or LedgerEventKind.HoldEnded)
                Note(holds, line);
            if (episodes.TryGetValue(key, out var known))
                episodes[key] = With(known, line) with { Holds = All(known.Holds, holds.GetValueOrDefault(line.Key)) };
            else if (line.Kind is LedgerEventKind.Raised)
                episodes[key] = new FindingEpisode(line.Key, line.Episode, line.At.Wall) { Holds = All([], holds.GetValueOrDefault(line.Key)) };
        }

        foreach (var told in announcements)
        {
            if (episodes.TryGetValue((told.Key, told.Level.Episode), out var known))
                episodes[(told.Key, told.Level.Episode)] = With(known, told);
        }

        foreach (var (record, words) in findings.Select(static finding => (finding.Record, finding.Words)))
        {
            if (episodes.TryGetValue((record.Key, record.Episode), out var known))
                episodes[(record.Key, record.Episode)] = known with { Severity = known.Severity ?? record.Severity, Words = known.Words ?? words };
        }

        return [.. episodes.Values.Where(episode => episode.Raised < to && (episode.Cleared is not { } cleared || cleared >= from))
            .OrderBy(static episode => episode.Raised).ThenBy(static episode => episode.Key, StringComparer.Ordinal)];
    }

    // A hold may have begun before the episode: a bulk change takes its members before they are raised.
    private static void Note(Dictionary<string, List<string>> holds, LedgerEvent line)
    {
        var word = line.Text?.Split(':')[0] ?? "";
        if (!holds.TryGetValue(line.Key, out var active))
            holds.Add(line.Key, active = []);
        active.Remove(word);
        if (line.Kind == LedgerEventKind.HoldBegan)
            active.Add(word);
    }

    private static IReadOnlyList<string> All(IReadOnlyList<string> known, List<string>? active) => active is null or [] || active.All(known.Contains) ? known : [.. known.Union(active, StringComparer.Ordinal)];

    private static FindingEpisode With(FindingEpisode known, LedgerEvent line) => line.Kind switch
    {
        LedgerEventKind.Closed => known with { Cleared = line.At.Wall, ClearedFor = line.Text },
        LedgerEventKind.Reopened => known with { Cleared = null, ClearedFor = null, Relapses = known.Relapses + 1 },
        LedgerEventKind.Relapsed => known with { Relapses = known.Relapses + 1 },
        LedgerEventKind.Acknowledged => known with { AcknowledgedBy = known.AcknowledgedBy ?? line.By, AcknowledgedAt = known.AcknowledgedAt ?? line.At.Wall },
        _ => known,
    };

    private static FindingEpisode With(FindingEpisode known, RecordedAnnouncement told) => known with
    {
        Severity = known.Severity is { } severity && severity > told.Level.Severity ? severity : told.Level.Severity,
        Words = known.Words ?? (told.Level.IsNews ? told.Words : null),
        Alarms = known.Alarms + (told.IsAlarm ? 1 : 0),
    };
}
