using StateWatch.Core.Findings;

namespace StateWatch.Core.Watching;

/// <summary>
/// Takes out of a ledger what is to be stored and told, with the words of the moment, and keeps it until somebody stores it. Words are remembered until nobody is to be
/// told of their finding any more: a digest is written up to a minute after what came and went, and a sink that was down hears of a clearing when it is back.
/// </summary>
/// <param name="ledger">The ledger.</param>
/// <param name="words">What was said of its findings.</param>
/// <param name="wordsOf">What is said of a finding, by key, whether it is told as open, and its members.</param>
internal sealed class LedgerOutlet(FindingLedger ledger, WatchWords words, Func<string, bool, IReadOnlyList<string>, AlertWords?> wordsOf)
{
    private readonly List<LedgerEvent> _events = [];
    private readonly List<Alert> _alerts = [];

    /// <summary>Whether nothing was collected since the last time, and no finding changed.</summary>
    public bool IsEmpty => _events.Count + _alerts.Count == 0 && !ledger.HasChanged;

    /// <summary>The whole key of a finding of a desk, of which people may leave out the desk.</summary>
    public static string KeyOf(string desk, string key) => key.StartsWith($"{desk}/", StringComparison.Ordinal) ? key : $"{desk}/{key}";

    /// <summary>Forgets the words of stored findings of which nobody is to be told any more: they stay in the history, and what comes is told in its own.</summary>
    public static void ForgetPast(WatchWords words, IEnumerable<FindingRecord> stored)
    {
        foreach (var record in stored.Where(IsPast))
            words.Forget(record.Key);
    }

    /// <summary>Takes what came about in the ledger.</summary>
    public void Collect(ShowStanding standing)
    {
        _events.AddRange(ledger.Events);
        foreach (var told in ledger.Announcements)
        {
            _alerts.Add(new Alert(told, standing.Show, standing.Phase, standing.Cue)
            {
                Words = told.Digest is null ? wordsOf(told.Key, told.Level.IsOpen, told.Members) : null,
                DigestWords = told.Digest is null ? [] : [.. told.Digest.Select(line => wordsOf(line.Key, line.Level.IsOpen, []))],
            });
        }

        ledger.ClearOutputs();
    }

    /// <summary>What was collected since the last time, and the findings that changed.</summary>
    public WatchOutput Take(ShowStanding standing, string desk)
    {
        var output = new WatchOutput(desk, ledger.State, standing) { Findings = TakeFindings(), Events = [.. _events], Alerts = [.. _alerts] };
        _events.Clear();
        _alerts.Clear();
        return output;
    }

    private List<StoredFinding> TakeFindings()
    {
        var findings = new List<StoredFinding>();
        foreach (var record in ledger.TakeChanged())
        {
            // Whoever reads the history wants words too, though nobody may have been told.
            if (record.Condition == Condition.Active && words.Last(record.Key) is null)
                _ = wordsOf(record.Key, true, []);
            findings.Add(new StoredFinding(record, words.Last(record.Key)));
            if (IsPast(record))
                words.Forget(record.Key);
        }

        return findings;
    }

    private static bool IsPast(FindingRecord record) => record is { Condition: Condition.Normal, IsLatched: false, Level.IsOpen: false }
        && record.Sinks.All(static sink => sink.Passed == 0 && !sink.Offered.IsOpen);
}
