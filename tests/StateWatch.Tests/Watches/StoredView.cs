using Microsoft.Data.Sqlite;
using StateWatch.Core.Findings;
using StateWatch.History;

namespace StateWatch.Tests.Watches;

/// <summary>What is on the disk of a desk's findings at one moment, read as <c>history</c> reads it.</summary>
/// <param name="Events">The journal of findings, in order.</param>
/// <param name="Announcements">What was announced, in order.</param>
/// <param name="Findings">Each finding by key.</param>
internal sealed record StoredView(IReadOnlyList<LedgerEvent> Events, IReadOnlyList<(string Sink, string Id, long At)> Announcements, IReadOnlyDictionary<string, FindingRecord> Findings)
{
    private static readonly StoredView Nothing = new([], [], new Dictionary<string, FindingRecord>());

    /// <summary>Reads it while nobody has it open. A watch that was killed before its first commit has left nothing.</summary>
    public static StoredView Read(string folder, string desk)
    {
        if (!File.Exists(Path.Combine(folder, SqliteHistory.FindingsFile)))
            return Nothing;
        HistoryReader reader;
        try
        {
            reader = HistoryFolder.Open(folder);
        }
        catch (HistoryException)
        {
            // Killed before the tables were there.
            return Nothing;
        }

        using (reader)
        {
            return new StoredView(reader.Events(desk, DateTimeOffset.MaxValue), ReadAnnouncements(folder, desk),
                reader.Findings(desk).ToDictionary(static one => one.Record.Key, static one => one.Record, StringComparer.Ordinal));
        }
    }

    /// <summary>Everything that was there before is there still, and nothing went back.</summary>
    public void CheckGoesOnFrom(StoredView before, string when)
    {
        Assert.True(Events.Count >= before.Events.Count, $"{when}: {before.Events.Count} lines of the journal have become {Events.Count}");
        // Lines of one moment may be written in any order of keys, but never change.
        Assert.Equal(before.Events, Events.Take(before.Events.Count));
        Assert.Equal(before.Announcements, Announcements.Take(before.Announcements.Count));
        if (Announcements.GroupBy(static one => (one.Sink, one.Id)).FirstOrDefault(static same => same.Count() > 1) is { } twice)
            Assert.Fail($"{when}: {twice.Key} was announced more than once: {string.Join(", ", twice)}\n{RecordOf(before, twice.Key.Id)}\n{RecordOf(this, twice.Key.Id)}\n{string.Join("\n", Events.Where(line => twice.Key.Id.StartsWith(line.Key, StringComparison.Ordinal)))}");
        foreach (var (key, record) in before.Findings)
        {
            Assert.True(Findings.TryGetValue(key, out var now) || record.Episode == 0, $"{when}: {key} is forgotten");
            if (now is not null)
                Assert.True(now.Episode >= record.Episode && now.Level.Transition >= record.Level.Transition, $"{when}: {key} went back from {record.Level} to {now.Level}");
        }

        CheckJournal(when);
    }

    // id is key#episode#transition
    private static string RecordOf(StoredView view, string id) =>
        view.Findings.GetValueOrDefault(id[..id.LastIndexOf('#', id.LastIndexOf('#') - 1)]) is { } record ? $"{record} {string.Join(", ", record.Sinks)}" : "no record";

    private static List<(string Sink, string Id, long At)> ReadAnnouncements(string folder, string desk)
    {
        using var connection = new SqliteConnection($"Data Source={Path.Combine(folder, SqliteHistory.FindingsFile)};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT sink, id, at FROM announcement WHERE desk = $desk ORDER BY number";
        command.Parameters.AddWithValue("$desk", desk);
        using var rows = command.ExecuteReader();
        var announcements = new List<(string, string, long)>();
        while (rows.Read())
            announcements.Add((rows.GetString(0), rows.GetString(1), rows.GetInt64(2)));
        return announcements;
    }

    // The state of each finding is that of its journal, to the last line of it.
    private void CheckJournal(string when)
    {
        var byKey = Events.ToLookup(static line => line.Key, StringComparer.Ordinal);
        foreach (var record in Findings.Values)
        {
            Assert.True(record.Episode == byKey[record.Key].Count(static line => line.Kind == LedgerEventKind.Raised), $"{when}: {record.Key} has {record.Episode} episodes, its journal others");
            var turn = byKey[record.Key].LastOrDefault(static line => line.Kind is LedgerEventKind.Raised or LedgerEventKind.Reopened or LedgerEventKind.Closed);
            var isOpen = turn is not null && turn.Kind != LedgerEventKind.Closed;
            Assert.True(isOpen == record.Condition is Condition.Active or Condition.Clearing, $"{when}: {record.Key} is {record.Condition}, its journal ends with {turn?.Kind}");
        }
    }
}
