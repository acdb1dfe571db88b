using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>
/// When phases and cues of a plan begin: local times of the show's zone. A day that a line names by its date goes by such lines alone. A time that exists
/// twice, when clocks go back, counts the first time (RFC 5545, section 3.3.5). A time that clocks jump over counts at the jump: RFC 5545 would take it as much later as the
/// jump is wide, which could put it behind a later line of the same day. Pure; for any thread.
/// </summary>
public sealed class ShowSchedule
{
    // A weekly line comes again within so many days, and a day more on either side for zones.
    private const int Week = 9;

    private readonly ScheduleLine[] _lines;
    private readonly TimeZoneInfo _zone;
    private readonly DateOnly[] _ownDays;

    /// <summary>Takes the lines of a schedule.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="zone">The show's zone.</param>
    public ShowSchedule(IReadOnlyList<ScheduleLine> lines, TimeZoneInfo zone)
    {
        _lines = [.. lines.OrderBy(static line => line.At)];
        _zone = zone;
        _ownDays = [.. lines.Select(static line => line.On).OfType<DateOnly>().Distinct().Order()];
    }

    /// <summary>The schedule of a plan, or null when it has none.</summary>
    /// <param name="document">The plan.</param>
    /// <param name="local">The zone where the plan names none; that of this machine when null.</param>
    public static ShowSchedule? Of(PlanDocument document, TimeZoneInfo? local = null) =>
        document.Schedule.Count == 0 ? null : new ShowSchedule(document.Schedule, document.Zone ?? local ?? TimeZoneInfo.Local);

    /// <summary>What begins next after a moment; null when nothing ever does. Of several at one moment, as clocks jump over them, the last.</summary>
    public ScheduledChange? Next(DateTimeOffset after) => Ahead(after, static _ => true);

    /// <summary>The phase that begins next after a moment; null when none ever does.</summary>
    public ScheduledChange? NextPhase(DateTimeOffset after) => Ahead(after, static line => line.Phase is not null);

    /// <summary>The phase that holds at a moment, with when it began; null before the first.</summary>
    public ScheduledChange? At(DateTimeOffset moment)
    {
        var last = DayOf(moment).DayNumber + 1;
        var least = Math.Max(0, last - Week - 7 * _ownDays.Length);
        for (var day = Math.Min(last, DateOnly.MaxValue.DayNumber); day >= least; day--)
        {
            if (Latest(DateOnly.FromDayNumber(day), moment) is { } change)
                return change;
        }

        // Before the last week only days of their own can be.
        foreach (var day in _ownDays.Reverse())
        {
            if (day.DayNumber < least && Latest(day, moment) is { } change)
                return change;
        }

        return null;
    }

    /// <summary>
    /// When the event is over that a moment belongs to: when a phase begins that comes no later in a day than the one before it; null when none ever does.
    /// Between two events, when everything is taken down, that is when the next one begins.
    /// </summary>
    public DateTimeOffset? EventEnd(DateTimeOffset moment)
    {
        var holds = At(moment);
        if (holds is { Phase: Phase.Build } && At(holds.Value.At.AddTicks(-1))?.Phase > Phase.Build)
            return NextPhase(moment)?.At;
        var phase = holds?.Phase;
        var from = moment;
        while (NextPhase(from) is { Phase: { } next } change)
        {
            if (next <= phase)
                return change.At;
            (phase, from) = (next, change.At);
        }

        return null;
    }

    private ScheduledChange? Ahead(DateTimeOffset after, Func<ScheduleLine, bool> isWanted)
    {
        var first = Math.Max(0, DayOf(after).DayNumber - 1);
        var most = Math.Min(DateOnly.MaxValue.DayNumber, first + Week + 7 * _ownDays.Length);
        for (var day = first; day <= most; day++)
        {
            if (Earliest(DateOnly.FromDayNumber(day), after, isWanted) is { } change)
                return change;
        }

        foreach (var day in _ownDays)
        {
            if (day.DayNumber > most && Earliest(day, after, isWanted) is { } change)
                return change;
        }

        return null;
    }

    private ScheduledChange? Earliest(DateOnly day, DateTimeOffset after, Func<ScheduleLine, bool> isWanted)
    {
        ScheduledChange? found = null;
        foreach (var line in _lines)
        {
            if (!Holds(line, day) || !isWanted(line) || ChangeOn(day, line) is not { } change || change.At <= after)
                continue;
            if (found is { } before && change.At > before.At)
                break;
            found = change;
        }

        return found;
    }

    private ScheduledChange? Latest(DateOnly day, DateTimeOffset moment)
    {
        ScheduledChange? found = null;
        foreach (var line in _lines)
        {
            if (line.Phase is not null && Holds(line, day) && ChangeOn(day, line) is { } change && change.At <= moment)
                found = change;
        }

        return found;
    }

    private bool Holds(ScheduleLine line, DateOnly day) => line.On is { } own ? own == day : line.Days.Contains(day.DayOfWeek) && Array.BinarySearch(_ownDays, day) < 0;

    private DateOnly DayOf(DateTimeOffset moment) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(moment, _zone).DateTime);

    private ScheduledChange? ChangeOn(DateOnly day, ScheduleLine line) => LocalTime.First(_zone, day.ToDateTime(line.At)) is { } at ? new ScheduledChange(at, line.Phase, line.Cue) : null;
}
