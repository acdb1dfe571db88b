using System.Data.Common;
using System.Text.Json;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>Reads a history, also while a watch writes it, and never changes it. Times from are included, times to are not.</summary>
/// <param name="place">Where it is, for messages.</param>
/// <param name="findings">The database of findings.</param>
/// <param name="observations">The database of observations; null when there is none.</param>
internal sealed class HistoryReader(string place, ISqlSession findings, ISqlSession? observations) : IDisposable
{
    /// <summary>Where it is.</summary>
    public string Place => place;

    public IReadOnlyList<RecordedDesk> Desks() => Ask(findings, "SELECT desk, at, standing FROM desk ORDER BY desk", static row =>
    {
        var standing = JsonSerializer.Deserialize(row.GetString(2), StoredJson.Default.ShowStanding)!;
        return new RecordedDesk(row.GetString(0), row.TimeAt(1), standing.Show, standing.Phase);
    });

    public IReadOnlyList<RecordedChange> Changes(string? desk, DateTimeOffset from, DateTimeOffset to) => Ask(
        observations, $"SELECT desk, at, setting, before_value, after_value, planned FROM setting_change WHERE at >= $1 AND at < $2{Of(desk, 3)} ORDER BY at, desk, setting",
        static row => new RecordedChange(row.GetString(0), new SettingChange(row.TimeAt(1), row.GetString(2), row.TextAt(3), row.TextAt(4), row.GetInt32(5) != 0)), Values(desk, from, to));

    public IReadOnlyList<RecordedCoverage> Coverage(string? desk, DateTimeOffset from, DateTimeOffset to) => Ask(
        observations, $"SELECT desk, at, planned, verified, cannot_tell FROM coverage WHERE at >= $1 AND at < $2{Of(desk, 3)} ORDER BY at, desk",
        static row => new RecordedCoverage(row.GetString(0), new CoverageSample(row.TimeAt(1), row.GetInt32(2), row.GetInt32(3), row.GetInt32(4))), Values(desk, from, to));

    public IReadOnlyList<RecordedShowEvent> ShowEvents(string? desk, DateTimeOffset to) => Ask(
        findings, $"SELECT desk, show, phase, at, kind, said, author FROM show_event WHERE at >= $1 AND at < $2{Of(desk, 3)} ORDER BY at, number",
        static row => new RecordedShowEvent(row.GetString(0),
            new ShowEvent(row.TimeAt(3), row.GetString(1), Enum.Parse<Phase>(row.GetString(2)), Enum.Parse<ShowEventKind>(row.GetString(4)), row.GetString(5), row.TextAt(6))),
        Values(desk, DateTimeOffset.MinValue, to));

    /// <summary>The journal of findings from its beginning: an episode may have begun long before what is asked about.</summary>
    public IReadOnlyList<LedgerEvent> Events(string? desk, DateTimeOffset to) => Ask(
        findings, $"SELECT at, clock, key, episode, kind, author, said FROM finding_event WHERE at >= $1 AND at < $2{Of(desk, 3)} ORDER BY at, number",
        static row => new LedgerEvent(new Moment(TimeSpan.FromTicks(row.GetInt64(1)), row.TimeAt(0)), row.GetString(2), row.GetInt32(3), Enum.Parse<LedgerEventKind>(row.GetString(4)), row.TextAt(5), row.TextAt(6)),
        Values(desk, DateTimeOffset.MinValue, to));

    /// <summary>What was announced, each once however many sinks were to be told, whether or not they have taken it.</summary>
    public IReadOnlyList<RecordedAnnouncement> Announcements(string? desk, DateTimeOffset from, DateTimeOffset to) => Ask(
        findings, $"SELECT desk, id, key, at, alert FROM announcement WHERE number IN (SELECT MIN(number) FROM announcement WHERE at >= $1 AND at < $2{Of(desk, 3)} GROUP BY id, at) ORDER BY number",
        static row =>
        {
            var alert = JsonSerializer.Deserialize(row.GetString(4), StoredJson.Default.Alert)!;
            return new RecordedAnnouncement(row.GetString(0), row.GetString(1), row.GetString(2), row.TimeAt(3), alert.Told.Level, alert.Told.Digest is not null, alert.Words);
        },
        Values(desk, from, to));

    public IReadOnlyList<RecordedFinding> Findings(string? desk) => Ask(
        findings, $"SELECT record, words FROM finding WHERE 1 = 1{Of(desk, 1)} ORDER BY key",
        static row => new RecordedFinding(JsonSerializer.Deserialize(row.GetString(0), StoredJson.Default.FindingRecord)!, row.TextAt(1) is { } words ? JsonSerializer.Deserialize(words, StoredJson.Default.AlertWords) : null),
        desk is null ? [] : [desk]);

    public void Dispose()
    {
        findings.Dispose();
        observations?.Dispose();
    }

    private static string Of(string? desk, int value) => desk is null ? "" : $" AND desk = ${value}";

    private static object?[] Values(string? desk, DateTimeOffset from, DateTimeOffset to) =>
        desk is null ? [Columns.Of(from), Columns.Of(to)] : [Columns.Of(from), Columns.Of(to), desk];

    private List<T> Ask<T>(ISqlSession? session, string sql, Func<DbDataReader, T> read, params object?[] values)
    {
        try
        {
            return session?.Ask(sql, read, values) ?? [];
        }
        catch (Exception problem) when (problem is DbException or JsonException or ArgumentException or InvalidCastException)
        {
            throw new HistoryException($"the history {place} cannot be read: {problem.Message.TrimEnd('.')}. Stop the watch and start it again: it moves a damaged file aside and saves what it can.", problem);
        }
    }
}
