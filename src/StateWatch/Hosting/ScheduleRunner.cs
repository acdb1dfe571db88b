using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Gives the orders of schedules when they are due, and none while nobody knows what time it is: until the clock of this machine is synchronised, that is
/// told instead. What should have begun while the watch was not running begins when it runs again, unless somebody has said something since.
/// </summary>
/// <param name="desks">The desks.</param>
/// <param name="isSynchronised">Whether the time of day can be trusted.</param>
/// <param name="clock">The time of day.</param>
/// <param name="self">Who is told.</param>
/// <param name="log">The log.</param>
internal sealed class ScheduleRunner(IReadOnlyList<ScheduledDesk> desks, Func<bool> isSynchronised, TimeProvider clock, ISelfReport self, ILogger log)
{
    /// <summary>How often it is looked whether something is due.</summary>
    public static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(1);

    private const string FindingId = "clock-not-synchronised:schedule";

    // Longer than anybody's clock is wrong by itself.
    private static readonly TimeSpan Absence = TimeSpan.FromHours(1);

    private readonly Dictionary<string, (ShowSchedule Schedule, DateTimeOffset Seen)> _seen = new(StringComparer.Ordinal);
    private bool _isTrusted;
    private bool _isTold;

    /// <summary>Looks once.</summary>
    public void Look()
    {
        if (!desks.Any(static desk => desk.Schedule() is not null) || !IsTrusted())
            return;
        var now = clock.GetUtcNow();
        foreach (var desk in desks)
        {
            if (desk.Schedule() is { } schedule && desk.Status() is { } status)
                Look(desk, schedule, status, now);
        }
    }

    private void Look(ScheduledDesk desk, ShowSchedule schedule, DeskStatus status, DateTimeOffset now)
    {
        // Another schedule, a machine that slept and a clock that was set are as good as an absence.
        if (!_seen.TryGetValue(desk.Key, out var known) || !ReferenceEquals(known.Schedule, schedule) || (now - known.Seen).Duration() > Absence)
        {
            _seen[desk.Key] = (schedule, now);
            if (schedule.At(now) is { } missed && (desk.IsFresh || status.Since < missed.At || status.Since > now))
                Give(desk, missed);
            return;
        }

        // Of several the last phase, and the cue behind it.
        ScheduledChange? phase = null, cue = null;
        var seen = known.Seen;
        while (schedule.Next(seen) is { } due && due.At <= now)
        {
            if (due.Phase is null)
                cue = due;
            else
                (phase, cue) = (due, null);
            seen = due.At;
        }

        foreach (var change in new[] { phase, cue }.OfType<ScheduledChange>())
            Give(desk, change);
        // A clock that was put back a little does not make anything begin twice.
        _seen[desk.Key] = (schedule, now > seen ? now : seen);
    }

    private void Give(ScheduledDesk desk, ScheduledChange change) => desk.Order(change.Order() with
    {
        Reply = result => log.OrderTaken(change.Phase is null ? "cue" : "phase", desk.Key, ScheduledChange.By, result.Text),
    });

    // Once it was synchronised it goes on well enough for a show when the network is gone.
    private bool IsTrusted()
    {
        if (_isTrusted)
            return true;
        _isTrusted = isSynchronised();
        if (_isTrusted && _isTold)
        {
            self.Clear(FindingId);
            log.ClockSynchronised();
        }
        else if (!_isTrusted && !_isTold)
        {
            _isTold = true;
            log.ClockNotSynchronised();
            self.Report(FindingId, Severity.Warning, new AlertWords("clock-not-synchronised", "the clock of this machine is not synchronised, so no phase or cue begins by schedule",
                "The desk may be judged by the wrong phase.", "Look whether this machine reaches a time server; until then say phases with 'statewatch phase'."));
        }

        return _isTrusted;
    }
}

/// <summary>A desk as its schedule sees it.</summary>
/// <param name="Key">site/desk.</param>
/// <param name="IsFresh">Whether nobody has ever said which phase it is.</param>
/// <param name="Schedule">The schedule of the plan that holds, or null.</param>
/// <param name="Status">How the desk stands; null before its first turn.</param>
/// <param name="Order">Gives it an order.</param>
internal sealed record ScheduledDesk(string Key, bool IsFresh, Func<ShowSchedule?> Schedule, Func<DeskStatus?> Status, Action<WatchOrder> Order);
