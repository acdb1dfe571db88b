using System.Globalization;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;
using StateWatch.Core.Watching;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Watching;

/// <summary>What a schedule says: what begins next, and what holds now.</summary>
public class ShowScheduleTests
{
    // 2026-11-29 and 2026-12-06 are Sundays; 2026-12-24 is a Thursday, 2026-12-27 a Sunday.
    private const string Lines = """
        zone: Europe/Lisbon
        cues: { Sermon: { settings: { "input/1/low-cut": on } } }
        schedule:
          - { phase: doors, at: "09:30", days: [sunday] }
          - { phase: soundcheck, at: "8:00", days: sunday }
          - { phase: show, at: "10:15", days: [sunday] }
          - { cue: Sermon, at: "10:40", days: [sunday] }
          - { phase: build, at: "12:30", days: [sunday] }
          - { phase: show, at: "17:00", on: 2026-12-24 }
          - { phase: build, at: "19:00", on: 2026-12-24 }
          - { phase: show, at: "16:00", on: 2026-12-27 }
        """;

    [Theory]
    [InlineData("2026-12-01T12:00", "2026-12-06T08:00 soundcheck", "2026-12-06T08:00 soundcheck", "2026-11-29T12:30 build")]
    [InlineData("2026-12-06T08:00", "2026-12-06T09:30 doors", "2026-12-06T09:30 doors", "2026-12-06T08:00 soundcheck")] // at the moment itself it has begun
    [InlineData("2026-12-06T10:20", "2026-12-06T10:40 Sermon", "2026-12-06T12:30 build", "2026-12-06T10:15 show")] // started late, it knows that the show is on
    [InlineData("2026-12-06T11:00", "2026-12-06T12:30 build", "2026-12-06T12:30 build", "2026-12-06T10:15 show")]
    [InlineData("2026-12-06T23:59", "2026-12-13T08:00 soundcheck", "2026-12-13T08:00 soundcheck", "2026-12-06T12:30 build")]
    [InlineData("2026-12-24T12:00", "2026-12-24T17:00 show", "2026-12-24T17:00 show", "2026-12-20T12:30 build")]
    [InlineData("2026-12-25T00:00", "2026-12-27T16:00 show", "2026-12-27T16:00 show", "2026-12-24T19:00 build")] // a Sunday with a line of its own goes by that alone
    [InlineData("2026-12-28T00:00", "2027-01-03T08:00 soundcheck", "2027-01-03T08:00 soundcheck", "2026-12-27T16:00 show")]
    public void It_knows_what_comes_next_and_what_holds(string now, string next, string nextPhase, string holds)
    {
        var schedule = Of(Lines);
        var moment = At(now);
        Assert.Equal(next, Say(schedule.Next(moment)));
        Assert.Equal(nextPhase, Say(schedule.NextPhase(moment)));
        Assert.Equal(holds, Say(schedule.At(moment)));
    }

    [Theory]
    [InlineData("2026-12-01T12:00", "2026-12-06T08:00")] // what was taken down on Sunday is out of the way before the next begins
    [InlineData("2026-12-06T08:30", "2026-12-06T12:30")]
    [InlineData("2026-12-06T11:00", "2026-12-06T12:30")]
    [InlineData("2026-12-06T12:30", "2026-12-13T08:00")]
    [InlineData("2026-12-24T12:00", "2026-12-24T17:00")]
    [InlineData("2026-12-24T17:30", "2026-12-24T19:00")]
    public void An_event_is_over_when_a_phase_begins_that_is_no_later_in_a_day(string now, string end) =>
        Assert.Equal(end, Of(Lines).EventEnd(At(now))!.Value.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("2026-12-05T12:00", "2026-12-05T13:00")]
    [InlineData("2026-12-05T14:00", "2026-12-05T17:00")]
    [InlineData("2026-12-05T17:30", "2026-12-05T22:00")]
    [InlineData("2026-12-05T23:00", "2026-12-06T13:00")]
    public void A_day_of_two_shows_is_two_events(string now, string end) => Assert.Equal(At(end), Of("""
        zone: Europe/Lisbon
        schedule:
          - { phase: build, at: "13:00" }
          - { phase: show, at: "15:00" }
          - { phase: doors, at: "17:00" }
          - { phase: show, at: "18:00" }
          - { phase: build, at: "22:00" }
        """).EventEnd(At(now)));

    [Fact]
    public void An_event_of_one_line_is_over_when_it_comes_again_and_one_of_one_day_never()
    {
        Assert.Equal(At("2026-12-02T10:00"), Of("zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\" }]").EventEnd(At("2026-12-01T12:00")));
        Assert.Null(Of("zone: Europe/Lisbon\nschedule: [{ phase: doors, at: \"09:00\", on: 2026-12-24 }, { phase: show, at: \"10:00\", on: 2026-12-24 }]").EventEnd(At("2026-12-24T09:30")));
    }

    [Fact]
    public void Times_follow_the_zone_through_its_changes_and_its_orders_say_who_gives_them()
    {
        var schedule = Of("zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\" }]");
        Assert.Equal("2026-03-28T10:00:00.0000000+00:00", schedule.Next(At("2026-03-28T00:00"))!.Value.At.ToString("O", CultureInfo.InvariantCulture));
        Assert.Equal("2026-03-29T10:00:00.0000000+01:00", schedule.Next(At("2026-03-28T12:00"))!.Value.At.ToString("O", CultureInfo.InvariantCulture));
        Assert.Equal(new PhaseOrder(Phase.Show, "schedule"), schedule.Next(At("2026-03-28T00:00"))!.Value.Order());
        Assert.Equal(new CueOrder("Sermon", "schedule"), Of(Lines).Next(At("2026-12-06T10:20"))!.Value.Order());
    }

    [Fact]
    public void Of_lines_that_clocks_jump_over_the_last_counts_and_none_is_lost()
    {
        var schedule = Of("zone: Europe/Lisbon\nschedule: [{ phase: soundcheck, at: \"01:10\" }, { phase: doors, at: \"01:50\" }, { phase: show, at: \"02:00\" }, { phase: build, at: \"05:00\" }]");
        var jump = new DateTimeOffset(2026, 3, 29, 1, 0, 0, TimeSpan.Zero);
        var next = schedule.Next(jump.AddMinutes(-1))!.Value;
        Assert.Equal((jump, Phase.Show), (next.At, next.Phase));
        Assert.Equal(Phase.Show, schedule.At(jump)!.Value.Phase);
        Assert.Equal(Phase.Build, schedule.Next(jump)!.Value.Phase);
    }

    [Fact]
    public void What_is_over_never_comes_again()
    {
        var schedule = Of("zone: Asia/Tokyo\nschedule: [{ phase: show, at: \"19:00\", on: 2026-12-24 }, { phase: show, at: \"19:00\", on: 2028-02-29 }]");
        Assert.Null(schedule.At(At("2026-12-24T09:00")));
        Assert.Equal(At("2026-12-24T10:00"), schedule.Next(At("2026-12-24T09:00"))!.Value.At);
        Assert.Equal(At("2028-02-29T10:00"), schedule.Next(At("2026-12-24T10:00"))!.Value.At);
        Assert.Equal(At("2026-12-24T10:00"), schedule.At(At("2028-02-29T09:00"))!.Value.At);
        Assert.Null(schedule.Next(At("2028-02-29T10:00")));
        Assert.Equal(At("2028-02-29T10:00"), schedule.At(DateTimeOffset.MaxValue)!.Value.At);
        Assert.Null(schedule.At(DateTimeOffset.MinValue));
        Assert.Null(ShowSchedule.Of(Written.Plan("zone: UTC").Document));
    }

    [Fact]
    public void Whatever_the_lines_it_says_what_a_list_of_all_moments_says()
    {
        var numbers = new SeededNumbers((ulong)TestSeed.Value);
        string[] zones = ["Europe/Lisbon", "Australia/Lord_Howe", "America/New_York", "Asia/Tokyo"];
        var first = new DateOnly(2026, 3, 1);
        for (var round = 0; round < 60; round++)
        {
            Assert.SkipUnless(TimeZoneInfo.TryFindSystemTimeZoneById(zones[round % zones.Length], out var zone), "this machine has no time zone data");
            var lines = new List<ScheduleLine>();
            for (var i = 0; i < 1 + numbers.NextBelow(7); i++)
            {
                var at = new TimeOnly(numbers.NextBelow(24), 15 * numbers.NextBelow(4));
                DayOfWeek[] days = [.. Enum.GetValues<DayOfWeek>().Where(_ => numbers.NextBelow(4) == 0)];
                DateOnly? own = numbers.NextBelow(3) == 0 ? first.AddDays(20 + numbers.NextBelow(25)) : null;
                Phase? phase = numbers.NextBelow(5) > 0 ? (Phase)numbers.NextBelow(4) : null;
                var line = new ScheduleLine(default, at, phase, phase is null ? "Sermon" : null, own is null ? days : [], own);
                if (lines.TrueForAll(other => !other.Meets(line)))
                    lines.Add(line);
            }

            var schedule = new ShowSchedule(lines, zone!);
            // Every moment of a quarter of a year, day by day, as a person would write them down.
            var all = new List<(DateTimeOffset At, ScheduleLine Line)>();
            for (var day = first.AddDays(-60); day < first.AddDays(120); day = day.AddDays(1))
            {
                var own = lines.Exists(line => line.On == day);
                foreach (var line in lines.Where(line => own ? line.On == day : line.Days.Contains(day.DayOfWeek)).OrderBy(line => line.At))
                    all.Add((LocalTime.First(zone!, day.ToDateTime(line.At))!.Value, line));
            }

            var near = all.Where(item => item.At.Month is 3 or 4).ToList();
            for (var look = 0; look < 40; look++)
            {
                var moment = look % 4 == 0 && near.Count > 0 ? near[numbers.NextBelow(near.Count)].At : new DateTimeOffset(2026, 3, 15, 0, 0, 0, TimeSpan.Zero).AddMinutes(numbers.NextBelow(45 * 24 * 60));
                var ahead = all.Where(item => item.At > moment).ToList();
                var next = ahead.Count == 0 ? null : Say(Change(ahead.Last(item => item.At == ahead[0].At)));
                var holding = all.Where(item => item.At <= moment && item.Line.Phase is not null).ToList();
                var holds = holding.Count == 0 ? null : Say(Change(holding[^1]));
                Assert.True(next == Say(schedule.Next(moment)) && (holds is null || holds == Say(schedule.At(moment))),
                    $"seed {TestSeed.Value}, round {round}, {zone!.Id} at {moment:O}: {Say(schedule.Next(moment))} for {next}, {Say(schedule.At(moment))} for {holds}\n{string.Join('\n', lines)}");
            }
        }
    }

    [Fact]
    public void Midwinter_is_a_show_by_the_clock()
    {
        var schedule = ShowSchedule.Of(DemoShow.Plan(Phase.Show).Document)!;
        Assert.Equal(Phase.Show, schedule.At(At("2026-12-19T20:00"))!.Value.Phase);
        Assert.Equal("2026-12-26T13:00 build", Say(schedule.Next(At("2026-12-20T10:00"))));
    }

    private static ScheduledChange Change((DateTimeOffset At, ScheduleLine Line) item) => new(item.At, item.Line.Phase, item.Line.Cue);

    private static ShowSchedule Of(string lines) => ShowSchedule.Of(Written.Plan(lines).Document)!;

    private static DateTimeOffset At(string utc) => new(DateTime.ParseExact(utc, "yyyy-MM-ddTHH:mm", CultureInfo.InvariantCulture), TimeSpan.Zero);

    private static string? Say(ScheduledChange? change) => change is { } one ? $"{one.At.ToString("yyyy-MM-ddTHH:mm", CultureInfo.InvariantCulture)} {one.Phase?.Word() ?? one.Cue}" : null;
}
