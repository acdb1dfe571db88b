using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts.Osc;

/// <summary>
/// What stands at a desk as of this moment: its status, which may be a second old, and over it what was told since. So a lamp shows what the line beside it
/// has just said.
/// </summary>
internal sealed class DeskBoard(TimeProvider clock)
{
    // Longer than a status is old and an order takes to the desk.
    private static readonly TimeSpan Recent = TimeSpan.FromSeconds(5);

    private readonly Dictionary<string, (Level Level, long At)> _told = new(StringComparer.Ordinal);

    /// <summary>Notes what was told.</summary>
    public void Note(Announcement told)
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

    /// <summary>Counts what stands at a desk.</summary>
    public StandingCount Count(DeskStatus status)
    {
        foreach (var (key, told) in _told)
        {
            if (clock.GetElapsedTime(told.At) > Recent)
                _told.Remove(key);
        }

        return StandingCount.Of(status.Standing.Where(one => !_told.ContainsKey(one.Record.Key)).Select(static one => one.Record.Level)
            .Concat(_told.Where(one => string.Equals(AlertKeys.DeskOf(one.Key), status.Desk, StringComparison.Ordinal)).Select(static one => one.Value.Level)));
    }
}
