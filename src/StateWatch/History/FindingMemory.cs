using System.Data.Common;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>What a watch goes on from, read from the tables of <see cref="FindingSchema"/>.</summary>
internal static class FindingMemory
{
    /// <summary>
    /// What is stored of a desk; null when nothing is. Of what cannot be read, which is told, at least the numbers are found again in the outbox: with numbers that
    /// begin anew, new alerts would be taken for old ones that were sent long ago.
    /// </summary>
    public static StoredDesk? Load(ISqlSession session, string desk, Action<string> notice)
    {
        var rows = session.Ask("SELECT ledger, standing, at FROM desk WHERE desk = $1", static row => (Ledger: row.GetString(0), Standing: row.GetString(1), At: row.TimeAt(2)), desk);
        if (rows.Count == 0)
            return null;
        var told = new ToldAlerts(session, desk);
        var ledger = Read(rows[0].Ledger, StoredJson.Default.LedgerState, problem =>
            notice($"The stored ledger of {desk} cannot be read: {problem} What stands is found again in what was told; acknowledgements and holds are gone. Look at the disk."));
        var findings = new List<FindingRecord>();
        var words = new Dictionary<string, AlertWords>(StringComparer.Ordinal);
        foreach (var (key, episode, record, said) in session.Ask("SELECT key, episode, record, words FROM finding WHERE desk = $1", Stored, desk))
        {
            // Without the ledger nobody knows what the times of a record mean.
            var finding = ledger is null ? null : Read(record, StoredJson.Default.FindingRecord, problem =>
                notice($"The stored finding {key} cannot be read; its numbers go on from what was told, an acknowledgement or hold of it is gone: {problem} Look at the disk if it happens again."));
            findings.Add(finding is null ? told.Recall(key, episode) : told.WithTaken(finding));
            if (said is not null && Read(said, StoredJson.Default.AlertWords, static _ => { }) is { } last)
                words[key] = last;
        }

        // By key, the same in every database, whatever order it keeps.
        findings.Sort(static (one, other) => string.CompareOrdinal(one.Key, other.Key));
        ledger ??= new LedgerState(desk, new Moment(TimeSpan.Zero, rows[0].At)) { Digests = told.Digests() };
        var standing = Read(rows[0].Standing, StoredJson.Default.ShowStanding, problem =>
            notice($"Which phase it was at {desk} cannot be read: {problem} The last one of the journal is taken; look whether it is right ('statewatch status').")) ?? LastStanding(session, desk, rows[0].At);
        return new StoredDesk(new LedgerRecord(ledger, findings), standing, words);
    }

    private static T? Read<T>(string json, JsonTypeInfo<T> type, Action<string> fault)
        where T : class
    {
        try
        {
            if (JsonSerializer.Deserialize(json, type) is { } value)
                return value;
            fault("it is empty.");
        }
        catch (JsonException problem)
        {
            fault(problem.Message);
        }

        return null;
    }

    private static ShowStanding LastStanding(ISqlSession session, string desk, DateTimeOffset at) =>
        session.Ask("SELECT show, phase FROM show_event WHERE desk = $1 ORDER BY number DESC LIMIT 1", static row => (Show: row.GetString(0), Phase: row.GetString(1)), desk) is [var last]
            && Enum.TryParse<Phase>(last.Phase, out var phase)
            ? new ShowStanding(last.Show, phase, null, at, "")
            : new ShowStanding("", Phase.Show, null, at, "");

    private static (string Key, int Episode, string Record, string? Words) Stored(DbDataReader row) => (row.GetString(0), row.GetInt32(1), row.GetString(2), row.TextAt(3));
}
