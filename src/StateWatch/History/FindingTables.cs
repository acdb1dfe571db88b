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
                output.Desk, Columns.Of(line.At), Text(line.Show), line.Phase.ToString(), line.Kind.ToString(), Text(line.Text), Text(line.By));
        }

        foreach (var alert in output.Alerts)
            Outbox.Add(session, output.Desk, alert, now);
    }

    /// <summary>Whether something of a finding is still going on: it is never removed, nor is the journal of its episode.</summary>
    public static bool IsOpen(FindingRecord record) =>
        record.Condition != Condition.Normal || record.IsLatched || record.Level.IsOpen || record.Holds != Holds.None;

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
            + "desk = excluded.desk, episode = excluded.episode, is_open = excluded.is_open, severity = excluded.severity, record = excluded.record, words = COALESCE(excluded.words, finding.words)",
            Text(record.Key), desk, record.Episode, IsOpen(record) ? 1 : 0, record.Severity.ToString(), JsonSerializer.Serialize(record, StoredJson.Default.FindingRecord),
            finding.Words is { } words ? JsonSerializer.Serialize(words, StoredJson.Default.AlertWords) : null);
    }

    private static string Json(LedgerState state) => JsonSerializer.Serialize(state, StoredJson.Default.LedgerState);

    private static string? Text(string? text) => text is null ? null : WholeText.ForColumn(text);
}
