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

    private readonly Dictionary<string, DateTimeOffset> _seen = new(StringComparer.Ordinal);
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
        if (!_seen.TryGetValue(desk.Key, out var seen))
        {
            _seen[desk.Key] = now;
            if (schedule.At(now) is { } missed && (desk.IsFresh || status.Since < missed.At))
                Give(desk, missed);
            return;
        }

        while (schedule.Next(seen) is { } due && due.At <= now)
        {
            Give(desk, due);
            seen = due.At;
        }

        // A clock that was put back does not make anything begin twice.
        _seen[desk.Key] = now > seen ? now : seen;
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
