using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>Schedules are kept when the time of day can be trusted, caught up with after an absence, and never against what somebody has said since.</summary>
public sealed class ScheduleRunnerTests
{
    private static readonly DateTimeOffset Day = new(2026, 12, 6, 0, 0, 0, TimeSpan.Zero);

    private readonly FakeTimeProvider _clock = new(Day.AddHours(9));
    private readonly FakeReports _reports = new();
    private readonly List<string> _orders = [];
    private bool _isSynchronised = true;
    private ShowSchedule? _schedule;
    private DateTimeOffset _since = Day.AddHours(8).AddMinutes(30);

    [Fact]
    public void Phases_and_cues_begin_when_they_are_due_and_once()
    {
        var runner = Runner();
        runner.Look();
        Assert.Empty(_orders);
        _clock.SetUtcNow(Day.AddHours(10));
        runner.Look();
        runner.Look();
        Assert.Equal(["show"], _orders);
        _clock.SetUtcNow(Day.AddHours(10).AddMinutes(20));
        runner.Look();
        Assert.Equal(["show", "Address"], _orders);
    }

    [Fact]
    public void What_should_have_begun_in_the_absence_begins_now()
    {
        _clock.SetUtcNow(Day.AddHours(10).AddMinutes(5));
        Runner().Look();
        Assert.Equal(["show"], _orders);
    }

    [Fact]
    public void What_somebody_has_said_since_holds()
    {
        _clock.SetUtcNow(Day.AddHours(10).AddMinutes(5));
        _since = Day.AddHours(10).AddMinutes(2);
        Runner().Look();
        Assert.Empty(_orders);
    }

    [Fact]
    public void Desk_of_which_nothing_is_remembered_takes_the_phase_of_the_hour()
    {
        _since = Day.AddHours(9);
        Runner(isFresh: true).Look();
        Assert.Equal(["doors"], _orders);
    }

    [Fact]
    public void Nothing_begins_until_the_clock_is_synchronised_and_that_is_told()
    {
        _isSynchronised = false;
        var runner = Runner();
        runner.Look();
        _clock.SetUtcNow(Day.AddHours(10).AddMinutes(5));
        runner.Look();
        Assert.Empty(_orders);
        Assert.Equal(["clock-not-synchronised:schedule"], _reports.Standing);
        _isSynchronised = true;
        runner.Look();
        Assert.Equal(["show"], _orders);
        Assert.Empty(_reports.Standing);
    }

    [Fact]
    public void Without_a_schedule_nobody_asks_for_the_time()
    {
        var runner = new ScheduleRunner([Desk(false)], () => throw new InvalidOperationException("nobody needs it"), _clock, _reports, NullLogger.Instance);
        runner.Look();
        Assert.Empty(_reports.Standing);
    }

    [Fact]
    public void Clock_that_is_set_a_year_ahead_and_put_right_leaves_schedules_alive()
    {
        var runner = Runner();
        runner.Look();
        _clock.AdjustTime(Day.AddYears(1).AddHours(11));
        runner.Look();
        Assert.Equal(["show"], _orders);
        _since = Day.AddYears(1).AddHours(11);
        _clock.AdjustTime(Day.AddHours(9).AddMinutes(10));
        runner.Look();
        Assert.Equal(["show", "doors"], _orders);
        _since = Day.AddHours(9).AddMinutes(10);
        _clock.AdjustTime(Day.AddHours(10));
        runner.Look();
        Assert.Equal(["show", "doors", "show"], _orders);
    }

    [Fact]
    public void Of_what_is_due_at_one_look_the_last_phase_begins_and_the_cue_behind_it()
    {
        var runner = Runner();
        _clock.SetUtcNow(Day.AddHours(9).AddMinutes(30));
        runner.Look();
        _clock.SetUtcNow(Day.AddHours(10).AddMinutes(25));
        runner.Look();
        Assert.Equal(["show", "Address"], _orders);
    }

    [Fact]
    public void Schedule_that_was_edited_begins_what_it_now_says_should_have_begun()
    {
        var runner = Runner();
        _clock.SetUtcNow(Day.AddHours(9).AddMinutes(40));
        runner.Look();
        Assert.Empty(_orders);
        _schedule = Schedule(new TimeOnly(9, 30));
        runner.Look();
        runner.Look();
        Assert.Equal(["show"], _orders);
    }

    private ScheduleRunner Runner(bool isFresh = false)
    {
        _schedule = Schedule(new TimeOnly(10, 0));
        return new ScheduleRunner([Desk(isFresh)], () => _isSynchronised, _clock, _reports, NullLogger.Instance);
    }

    private static ShowSchedule Schedule(TimeOnly show)
    {
        var place = new Origin("x.plan.yaml", new Place(1, 1));
        DayOfWeek[] days = Enum.GetValues<DayOfWeek>();
        return new ShowSchedule(
            [
                new ScheduleLine(place, new TimeOnly(8, 0), Phase.Doors, null, days, null),
                new ScheduleLine(place, show, Phase.Show, null, days, null),
                new ScheduleLine(place, new TimeOnly(10, 20), null, "Address", days, null),
            ], TimeZoneInfo.Utc);
    }

    private ScheduledDesk Desk(bool isFresh) => new("here/house", isFresh, () => _schedule,
        () => new DeskStatus("here/house", default, "Small", Phase.Doors, null, _since), order => _orders.Add(order is PhaseOrder phase ? phase.Phase.Word() : ((CueOrder)order).Cue ?? "end"));
}
