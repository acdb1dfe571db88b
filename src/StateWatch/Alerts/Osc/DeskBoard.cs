using StateWatch.Core.Findings;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts.Osc;

/// <summary>
/// What stands at the desks as of this moment: what the last beat of each said, and over it what was told since. So a lamp shows what the line
/// beside it has just said.
/// </summary>
internal sealed class DeskBoard(TimeProvider clock)
{
    // A status may be a second old, and an order takes its time to the desk: what was told within this before a beat may not be in it.
    private static readonly TimeSpan Recent = TimeSpan.FromSeconds(5);

    private readonly SortedDictionary<string, DeskStatus> _statuses = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (Level Level, long At)> _told = new(StringComparer.Ordinal);

    /// <summary>How each desk stood at its last beat.</summary>
    public IReadOnlyCollection<DeskStatus> Statuses => _statuses.Values;

    /// <summary>How a desk stood at its last beat; null before the first.</summary>
    public DeskStatus? StatusOf(string desk) => _statuses.GetValueOrDefault(desk);

    /// <summary>Takes how a desk stands.</summary>
    public void Take(DeskStatus status)
    {
        _statuses[status.Desk] = status;
        foreach (var (key, told) in _told)
        {
            if (IsOf(key, status.Desk) && clock.GetElapsedTime(told.At) > Recent)
                _told.Remove(key);
        }
    }

    /// <summary>Takes what was told.</summary>
    public void Take(Announcement told)
    {
        if (told.Digest is null)
        {
            _told[told.Key] = (told.Level, clock.GetTimestamp());
            return;
        }

        foreach (var line in told.Digest)
        {
            if (line.Passed == 0)
                _told[line.Key] = (line.Level, clock.GetTimestamp());
        }
    }

    /// <summary>Counts what stands at these desks.</summary>
    public StandingCount Count(IReadOnlyCollection<DeskStatus> desks) => StandingCount.Of(
        desks.SelectMany(static desk => desk.Standing).Where(one => !_told.ContainsKey(one.Record.Key)).Select(static one => one.Record.Level)
            .Concat(_told.Where(one => desks.Any(desk => IsOf(one.Key, desk.Desk))).Select(static one => one.Value.Level)));

    private static bool IsOf(string key, string desk) => string.Equals(FindingKeys.DeskOf(key), desk, StringComparison.Ordinal);
}
