using System.Text.Json;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// What waits for sinks, in order. What was taken or thrown away stays as a record of what was told, until it is too old.
/// </summary>
internal static class Outbox
{
    /// <summary>
    /// Adds one. What waits with its id already, or was taken, is the same alert: a ledger hands it over again after a restart when it does not know for
    /// certain that it was told.
    /// </summary>
    public static void Add(ISqlSession session, string desk, Alert alert, DateTimeOffset now)
    {
        var told = alert.Told;
        session.Run(
            "INSERT INTO announcement (site, desk, sink, key, id, at, recorded, kind, severity, alert) SELECT $1, $2, $3, $4, $5, $6, $7, $8, $9, $10 "
            + "WHERE NOT EXISTS (SELECT 1 FROM announcement WHERE sink = $3 AND id = $5 AND state IN ('waiting', 'taken')) ON CONFLICT (sink, id, at) DO NOTHING",
            DeskKey.SiteOf(desk), desk, told.Sink, WholeText.ForColumn(told.Key), WholeText.ForColumn(told.Id), Columns.Of(told.At.Wall), Columns.Of(now),
            told.Digest is null ? told.Level.Kind.ToString() : "Digest", told.Level.Severity.ToString(), JsonSerializer.Serialize(alert, StoredJson.Default.Alert));
    }

    /// <summary>The oldest that wait. One that cannot be read is put aside and told, or it would hold up all that follow.</summary>
    public static List<WaitingAlert> Waiting(ISqlSession session, string? site, string sink, int most, Action<string> notice)
    {
        var waiting = new List<WaitingAlert>();
        var rows = session.Ask($"SELECT number, alert, gap, recorded FROM announcement WHERE sink = $1 AND state = 'waiting'{OfSite(site, 3)} ORDER BY number LIMIT $2",
            static row => (Row: row.GetInt64(0), Alert: row.GetString(1), Gap: row.GetInt32(2), At: row.TimeAt(3)), Values(site, sink, most));
        foreach (var row in rows)
        {
            try
            {
                waiting.Add(new WaitingAlert(row.Row, JsonSerializer.Deserialize(row.Alert, StoredJson.Default.Alert)!, row.Gap) { RecordedAt = row.At });
            }
            catch (JsonException problem)
            {
                session.Run("UPDATE announcement SET state = 'unreadable' WHERE number = $1", row.Row);
                notice($"An alert that waited for {sink} cannot be read and will not be sent: {problem.Message} Look at the status for what stands.");
            }
        }

        return waiting;
    }

    public static int CountWaiting(ISqlSession session, string? site, string sink) =>
        session.Ask($"SELECT COUNT(*) FROM announcement WHERE sink = $1 AND state = 'waiting'{OfSite(site, 2)}", static row => (int)row.GetInt64(0), Values(site, sink))[0];

    public static void Taken(ISqlSession session, string sink, IReadOnlyList<long> rows)
    {
        foreach (var row in rows)
            session.Run("UPDATE announcement SET state = 'taken' WHERE number = $1 AND sink = $2", row, sink);
    }

    public static void Refused(ISqlSession session, string sink, IReadOnlyList<long> rows)
    {
        foreach (var row in rows)
            session.Run("UPDATE announcement SET state = 'refused' WHERE number = $1 AND sink = $2", row, sink);
    }

    /// <summary>Whether a sink has taken what has this id.</summary>
    public static bool IsTaken(ISqlSession session, string sink, string id) =>
        session.Ask("SELECT 1 FROM announcement WHERE sink = $1 AND id = $2 AND state = 'taken' LIMIT 1", static _ => true, sink, WholeText.ForColumn(id)).Count > 0;

    public static int Coalesce(ISqlSession session, string? site, string sink, int most)
    {
        if (CountWaiting(session, site, sink) <= most)
            return 0;
        // A digest is of many findings and supersedes none, though all digests of a desk have one key.
        var rows = session.Ask($"SELECT number, key, gap FROM announcement WHERE sink = $1 AND state = 'waiting' AND kind <> 'Digest'{OfSite(site, 2)} ORDER BY number DESC",
            static row => (Row: row.GetInt64(0), Key: row.GetString(1), Gap: row.GetInt32(2)), Values(site, sink));
        var newest = new Dictionary<string, (long Row, int Gap, int Added)>(StringComparer.Ordinal);
        var dropped = 0;
        foreach (var row in rows)
        {
            if (newest.TryAdd(row.Key, (row.Row, row.Gap, 0)))
                continue;
            newest[row.Key] = newest[row.Key] with { Added = newest[row.Key].Added + 1 + row.Gap };
            session.Run("UPDATE announcement SET state = 'dropped' WHERE number = $1", row.Row);
            dropped++;
        }

        foreach (var (row, gap, _) in newest.Values.Where(static one => one.Added > 0).Select(static one => (one.Row, one.Gap + one.Added, one.Added)))
            session.Run("UPDATE announcement SET gap = $1 WHERE number = $2", gap, row);
        // When nothing else is left to throw away.
        var left = CountWaiting(session, site, sink) - most;
        var digests = left <= 0 ? [] : session.Ask($"SELECT number FROM announcement WHERE sink = $1 AND state = 'waiting' AND kind = 'Digest'{OfSite(site, 3)} ORDER BY number LIMIT $2",
            static row => row.GetInt64(0), Values(site, sink, left));
        foreach (var row in digests)
            session.Run("UPDATE announcement SET state = 'dropped' WHERE number = $1", row);
        return dropped + digests.Count;
    }

    // Several sites share one server; each sends its own.
    private static string OfSite(string? site, int value) => site is null ? "" : $" AND site = ${value}";

    private static object?[] Values(string? site, params object?[] values) => site is null ? values : [.. values, site];
}
