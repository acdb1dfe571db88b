using System.Data.Common;
using System.Text.Json;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>Findings, their journal and that of the show in the tables of <see cref="FindingSchema"/>.</summary>
internal static class FindingTables
{
    public static void Write(ISqlSession session, WatchOutput output, DateTimeOffset now)
    {
        session.Run(
            "INSERT INTO desk (desk, at, ledger, standing) VALUES ($1, $2, $3, $4) "
            + "ON CONFLICT (desk) DO UPDATE SET at = excluded.at, ledger = excluded.ledger, standing = excluded.standing",
            output.Desk, Columns.Of(output.Ledger.At.Wall), Json(output.Ledger), JsonSerializer.Serialize(output.Standing, StoredJson.Default.ShowStanding));
        foreach (var finding in output.Findings)
            Write(session, output.Desk, finding);
        foreach (var line in output.Events)
        {
            session.Run("INSERT INTO finding_event (desk, at, clock, key, episode, kind, author, said) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
                output.Desk, Columns.Of(line.At.Wall), line.At.Clock.Ticks, Text(line.Key), line.Episode, line.Kind.ToString(), Text(line.By), Text(line.Text));
        }

        foreach (var line in output.Happenings)
        {
            session.Run("INSERT INTO show_event (desk, at, show, phase, kind, said, author) VALUES ($1, $2, $3, $4, $5, $6, $7)",
                output.Desk, Columns.Of(line.At), Text(output.Standing.Show), output.Standing.Phase.ToString(), line.Kind.ToString(), Text(line.Text), Text(line.By));
        }

        foreach (var alert in output.Alerts)
            Outbox.Add(session, output.Desk, alert, now);
    }

    /// <summary>What is stored of a desk; a finding that cannot be read is left out and told.</summary>
    public static StoredDesk? Load(ISqlSession session, string desk, Action<string> notice)
    {
        var row = session.Ask("SELECT ledger, standing FROM desk WHERE desk = $1", static row => (Ledger: row.GetString(0), Standing: row.GetString(1)), desk);
        if (row.Count == 0)
            return null;
        var findings = new List<FindingRecord>();
        var words = new Dictionary<string, AlertWords>(StringComparer.Ordinal);
        foreach (var (key, record, said) in session.Ask("SELECT key, record, words FROM finding WHERE desk = $1", Stored, desk))
        {
            try
            {
                findings.Add(WithTaken(session, JsonSerializer.Deserialize(record, StoredJson.Default.FindingRecord)!));
                if (said is not null)
                    words[key] = JsonSerializer.Deserialize(said, StoredJson.Default.AlertWords)!;
            }
            catch (JsonException problem)
            {
                notice($"The stored finding {key} cannot be read and begins anew: {problem.Message} Nothing needs to be done; look at the disk if it happens again.");
            }
        }

        // By key, the same in every database, whatever order it keeps.
        findings.Sort(static (one, other) => string.CompareOrdinal(one.Key, other.Key));
        var ledger = JsonSerializer.Deserialize(row[0].Ledger, StoredJson.Default.LedgerState)!;
        var standing = JsonSerializer.Deserialize(row[0].Standing, StoredJson.Default.ShowStanding)!;
        return new StoredDesk(new LedgerRecord(ledger, findings), standing, words);
    }

    /// <summary>Whether something of a finding is still going on: it is never removed, nor is the journal of its episode.</summary>
    public static bool IsOpen(FindingRecord record) =>
        record.Condition != Condition.Normal || record.IsLatched || record.Level.IsOpen || record.Holds != Holds.None;

    // That a sink has taken something is noted in the outbox first, and a watch that was killed then has not told its ledger.
    private static FindingRecord WithTaken(ISqlSession session, FindingRecord record) =>
        record.Sinks.Any(sink => IsTakenSince(session, record.Key, sink))
            ? record with { Sinks = [.. record.Sinks.Select(sink => IsTakenSince(session, record.Key, sink) ? sink with { Told = sink.Offered } : sink)] }
            : record;

    private static bool IsTakenSince(ISqlSession session, string key, SinkRecord sink) =>
        sink.Told != sink.Offered && Outbox.IsTaken(session, sink.Sink, new Announcement(sink.Sink, key, sink.Offered, default, default).Id);

    private static void Write(ISqlSession session, string desk, StoredFinding finding)
    {
        var record = finding.Record;
        if (record.IsQuiet)
        {
            session.Run("DELETE FROM finding WHERE key = $1", Text(record.Key));
            return;
        }

        session.Run(
            "INSERT INTO finding (key, desk, episode, is_open, severity, record, words) VALUES ($1, $2, $3, $4, $5, $6, $7) ON CONFLICT (key) DO UPDATE SET "
            + "desk = excluded.desk, episode = excluded.episode, is_open = excluded.is_open, severity = excluded.severity, record = excluded.record, words = excluded.words",
            Text(record.Key), desk, record.Episode, IsOpen(record) ? 1 : 0, record.Severity.ToString(), JsonSerializer.Serialize(record, StoredJson.Default.FindingRecord),
            finding.Words is { } words ? JsonSerializer.Serialize(words, StoredJson.Default.AlertWords) : null);
    }

    private static string Json(LedgerState state) => JsonSerializer.Serialize(state, StoredJson.Default.LedgerState);

    private static (string Key, string Record, string? Words) Stored(DbDataReader row) => (row.GetString(0), row.GetString(1), row.TextAt(2));

    private static string? Text(string? text) => text is null ? null : WholeText.ForColumn(text);
}
