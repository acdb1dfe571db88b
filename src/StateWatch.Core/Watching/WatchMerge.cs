namespace StateWatch.Core.Watching;

/// <summary>Makes one output of two that follow each other at one desk, for when storing is slower than the desk or fails.</summary>
public static class WatchMerge
{
    /// <summary>The most lines of one kind that are kept before they are thinned out.</summary>
    public const int MostLines = 20_000;

    /// <summary>
    /// Joins two outputs. Findings, ledger and standing are those of the newer, words the last that were said; journals follow each other. Above <paramref name="most"/> lines,
    /// changes of one setting become one (from the first value to the last), every second sample of coverage is left out, and the oldest lines of
    /// the journals of findings and of the show are dropped. Alerts are never dropped.
    /// </summary>
    /// <param name="older">What came first.</param>
    /// <param name="newer">What came next; nothing lies between.</param>
    /// <param name="most">The most lines of one kind.</param>
    /// <exception cref="ArgumentException">They are of two desks.</exception>
    public static WatchOutput Join(WatchOutput older, WatchOutput newer, int most = MostLines)
    {
        if (older.Desk != newer.Desk)
            throw new ArgumentException($"outputs of two desks: {older.Desk} and {newer.Desk}", nameof(newer));
        return newer with
        {
            Findings = JoinFindings(older.Findings, newer.Findings),
            Events = Newest(Both(older.Events, newer.Events), most),
            Alerts = Both(older.Alerts, newer.Alerts),
            Changes = Both(older.Changes, newer.Changes) is var changes && changes.Count > most ? Newest(JoinChanges(changes), most) : changes,
            Happenings = Newest(Both(older.Happenings, newer.Happenings), most),
            Coverage = Both(older.Coverage, newer.Coverage) is var samples && samples.Count > most ? [.. samples.Where(static (_, i) => i % 2 == 1)] : samples,
        };
    }

    private static IReadOnlyList<T> Both<T>(IReadOnlyList<T> older, IReadOnlyList<T> newer) =>
        older.Count == 0 ? newer : newer.Count == 0 ? older : [.. older, .. newer];

    private static IReadOnlyList<T> Newest<T>(IReadOnlyList<T> lines, int most) => lines.Count <= most ? lines : [.. lines.Skip(lines.Count - most)];

    private static IReadOnlyList<StoredFinding> JoinFindings(IReadOnlyList<StoredFinding> older, IReadOnlyList<StoredFinding> newer)
    {
        if (older.Count == 0 || newer.Count == 0)
            return older.Count == 0 ? newer : older;
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        var joined = new List<StoredFinding>(older.Count + newer.Count);
        foreach (var finding in older.Concat(newer))
        {
            if (places.TryAdd(finding.Record.Key, joined.Count))
                joined.Add(finding);
            else
                joined[places[finding.Record.Key]] = finding.Words is null ? finding with { Words = joined[places[finding.Record.Key]].Words } : finding;
        }

        return joined;
    }

    // In the order of the last change of each.
    private static List<SettingChange> JoinChanges(IReadOnlyList<SettingChange> changes)
    {
        var first = new Dictionary<string, string?>(StringComparer.Ordinal);
        foreach (var change in changes)
            first.TryAdd(change.Setting, change.Before);
        var joined = new List<SettingChange>(first.Count);
        for (var i = changes.Count - 1; i >= 0; i--)
        {
            if (first.Remove(changes[i].Setting, out var before))
                joined.Add(changes[i] with { Before = before });
        }

        joined.Reverse();
        return joined;
    }
}
