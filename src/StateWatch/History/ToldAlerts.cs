using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Findings;

namespace StateWatch.History;

/// <summary>What sinks were told of a desk, as its outbox remembers it.</summary>
internal sealed class ToldAlerts(ISqlSession session, string desk)
{
    // Those that a ledger may not know of are the last ones.
    private const int DigestsLookedAt = 50;

    private readonly Dictionary<string, HashSet<(string Key, Level Level)>> _digests = new(StringComparer.Ordinal);

    private string DigestKey => $"{desk}/digest";

    /// <summary>
    /// A finding with what sinks have taken of it. That is noted in the outbox first, and a watch that was killed then has not told its ledger; so it is with each
    /// line of a digest.
    /// </summary>
    public FindingRecord WithTaken(FindingRecord record) => record.Sinks.Any(sink => IsTakenSince(record.Key, sink))
        ? record with { Sinks = [.. record.Sinks.Select(sink => IsTakenSince(record.Key, sink) ? sink with { Told = sink.Offered } : sink)] }
        : record;

    /// <summary>A finding whose record cannot be read, as far as it was told: what was raised last stands, until the desk was looked at.</summary>
    public FindingRecord Recall(string key, int episode)
    {
        var alerts = Ask("SELECT alert FROM announcement WHERE key = $1 ORDER BY number", key);
        var last = alerts.Count == 0 ? default : alerts.MaxBy(static told => told.Level.Transition)!.Level;
        return new FindingRecord(key)
        {
            Check = new WatchedCheck(key[(desk.Length + 1)..], TimerClass.Immediate),
            Condition = last.IsOpen ? Condition.Active : Condition.Normal,
            Severity = last.Severity,
            RaisedAt = alerts.LastOrDefault(told => told.Level.Episode == last.Episode)?.At.Wall,
            Episode = Math.Max(episode, last.Episode),
            Level = last,
            FirstTransition = last.Transition,
            Sinks = [.. alerts.GroupBy(static told => told.Sink, StringComparer.Ordinal).Select(static told => Told(told.Key, told.MaxBy(static one => one.Level.Transition)!.Level))],
        };
    }

    /// <summary>Number of the last digest that was told.</summary>
    public int Digests() => session.Ask("SELECT id FROM announcement WHERE key = $1", static row => row.GetString(0), WholeText.ForColumn(DigestKey))
        .Select(static id => int.TryParse(id[(id.LastIndexOf('#') + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).DefaultIfEmpty().Max();

    private static SinkRecord Told(string sink, Level level) => new(sink, level, level, 0, 0, level.Severity);

    private bool IsTakenSince(string key, SinkRecord sink) => sink.Told != sink.Offered
        && (Outbox.IsTaken(session, sink.Sink, new Announcement(sink.Sink, key, sink.Offered, default, default).Id) || DigestLines(sink.Sink).Contains((key, sink.Offered)));

    private HashSet<(string Key, Level Level)> DigestLines(string sink)
    {
        if (!_digests.TryGetValue(sink, out var lines))
        {
            var told = Ask($"SELECT alert FROM announcement WHERE sink = $1 AND key = $2 AND state = 'taken' ORDER BY number DESC LIMIT {DigestsLookedAt}", sink, DigestKey);
            lines = [.. told.SelectMany(static one => one.Digest ?? []).Where(static line => line.Passed == 0).Select(static line => (line.Key, line.Level))];
            _digests.Add(sink, lines);
        }

        return lines;
    }

    // One that cannot be read says nothing.
    private List<Announcement> Ask(string sql, params string[] values)
    {
        var told = new List<Announcement>();
        foreach (var alert in session.Ask(sql, static row => row.GetString(0), [.. values.Select(WholeText.ForColumn)]))
        {
            try
            {
                if (JsonSerializer.Deserialize(alert, StoredJson.Default.Alert)?.Told is { } one)
                    told.Add(one);
            }
            catch (JsonException)
            {
                // Whoever sends it tells of it.
            }
        }

        return told;
    }
}
