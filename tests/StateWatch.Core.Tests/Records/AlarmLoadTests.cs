using CsCheck;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Records;

namespace StateWatch.Core.Tests.Records;

/// <summary>The alarm load against the rates that the alarm standards equate, and against counts made by hand.</summary>
public sealed class AlarmLoadTests
{
    private static readonly DateTimeOffset Nine = new(2026, 11, 29, 9, 0, 0, TimeSpan.Zero);

    // ISA-18.2-2016 and IEC 62682, through summaries: about 1 in 10 minutes, 6 an hour, 144 a day are acceptable; 2, 12 and 288 the most that can be managed.
    [Theory]
    [InlineData(144, 1, 6)]
    [InlineData(288, 2, 12)]
    public void A_day_of_evenly_spread_alarms_has_the_rates_of_the_standards(int alarms, double perTenMinutes, double perHour)
    {
        var load = Of([.. Enumerable.Range(0, alarms).Select(number => TimeSpan.FromTicks(TimeSpan.TicksPerDay / alarms * number))], TimeSpan.FromDays(1));
        Assert.Equal((perTenMinutes, perHour), (load.PerTenMinutes, load.PerHour));
        Assert.Equal((144, 0, 24, 0), (load.Periods, load.PeriodsAboveTen, load.Hours, load.HoursAboveThirty));
        Assert.Equal((int)perTenMinutes, load.Peak);
        Assert.Equal((true, perTenMinutes <= 1.0 / 3), (Met(load, "average-10-min"), Met(load, "average-30-min")));
    }

    [Fact]
    public void Average_of_less_than_its_own_time_is_not_judged()
    {
        var load = Of(Counts(3), TimeSpan.FromMinutes(1));
        Assert.Equal((null, null, null), (Met(load, "average-10-min"), Met(load, "average-30-min"), Met(load, "average-hour")));
        Assert.True(Met(load, "peak-10-min"));
        Assert.False(Met(Of(Counts(3), TimeSpan.FromMinutes(10)), "average-10-min"));
    }

    // By hand: above 10 begins a flood, below 5 ends it. 3 | 11 6 5 | 4 10 | 12 | 2: two floods, three periods and one.
    [Fact]
    public void Flood_begins_above_ten_and_ends_below_five()
    {
        var load = Of(Counts(3, 11, 6, 5, 4, 10, 12, 2), TimeSpan.FromMinutes(80));
        Assert.Equal((2, TimeSpan.FromMinutes(40), 0.5), (load.Floods, load.InFlood, load.ShareInFlood));
        Assert.Equal((8, 2, 0.25), (load.Periods, load.PeriodsAboveTen, load.ShareAboveTen));
        Assert.Equal((2, 1), (load.Hours, load.HoursAboveThirty)); // 39 in the first hour, 14 in what is left
        Assert.Equal((false, false), (Met(load, "flood"), Met(load, "periods-above-10")));
    }

    [Fact]
    public void Ten_alarms_in_a_period_are_no_flood_and_eleven_are()
    {
        Assert.Equal(0, Of(Counts(10), TimeSpan.FromMinutes(10)).Floods);
        Assert.Equal(1, Of(Counts(11), TimeSpan.FromMinutes(10)).Floods);
    }

    [Fact]
    public void Flood_ends_where_nobody_watched()
    {
        var alarms = Counts(11, 6).Select(ago => new Alarm(Nine + ago, "hall/desk/x:y", Severity.Notice)).ToList();
        TimeStretch[] watched = [new(Nine, Nine + TimeSpan.FromMinutes(10)), new(Nine + TimeSpan.FromMinutes(10), Nine + TimeSpan.FromMinutes(20))];
        Assert.Equal(TimeSpan.FromMinutes(10), AlarmLoad.Of(alarms, [], [], watched).InFlood);
    }

    [Fact]
    public void Peak_is_found_across_the_edges_of_periods()
    {
        TimeSpan[] times = [.. Enumerable.Range(0, 6).Select(static number => TimeSpan.FromMinutes(9 + (number * 0.1))), .. Enumerable.Range(0, 6).Select(static number => TimeSpan.FromMinutes(10 + number))];
        var load = Of(times, TimeSpan.FromMinutes(30));
        Assert.Equal((12, Nine + TimeSpan.FromMinutes(9)), (load.Peak, load.PeakAt));
        Assert.Equal(0, load.PeriodsAboveTen);
        Assert.False(Met(load, "peak-10-min"));
    }

    [Fact]
    public void Exactly_ten_minutes_apart_is_not_the_same_ten_minutes() =>
        Assert.Equal(1, Of([TimeSpan.Zero, TimeSpan.FromMinutes(10)], TimeSpan.FromMinutes(20)).Peak);

    [Fact]
    public void Averages_are_of_the_time_in_which_somebody_watched()
    {
        var alarms = Counts(2).Select(ago => new Alarm(Nine + ago, "hall/desk/x:y", Severity.Notice)).ToList();
        TimeStretch[] watched = [new(Nine, Nine + TimeSpan.FromMinutes(10)), new(Nine + TimeSpan.FromDays(7), Nine + TimeSpan.FromDays(7) + TimeSpan.FromMinutes(10))];
        Assert.Equal(1, AlarmLoad.Of(alarms, [], [], watched).PerTenMinutes);
    }

    [Fact]
    public void Nothing_watched_gives_no_verdict()
    {
        var load = AlarmLoad.Of([], [], [], []);
        Assert.All(LoadFigure.Of(load), static figure => Assert.Null(figure.IsMet));
        Assert.Equal((0, null), (load.Peak, load.PeakAt));
    }

    [Theory]
    [InlineData(true, 0.0, 20.0, 40.0)]
    [InlineData(true, 0.0, 59.0, 59.9)]
    [InlineData(false, 0.0, 30.0, 60.0)]
    [InlineData(false, 0.0, 20.0)]
    public void Three_times_off_plan_within_a_minute_chatters(bool chatters, params double[] seconds)
    {
        var kinds = (LedgerEventKind[])[LedgerEventKind.Raised, LedgerEventKind.Relapsed, LedgerEventKind.Reopened];
        var events = seconds.SelectMany((second, number) => new[] { Event(second, kinds[number]), Event(second + 0.01, LedgerEventKind.Recovering) });
        var load = AlarmLoad.Of([], [], events, []);
        Assert.Equal(chatters ? ["hall/desk/x:y"] : [], load.Chattering);
    }

    [Fact]
    public void What_was_gone_within_a_minute_and_nobody_acknowledged_is_fleeting()
    {
        var raised = new FindingEpisode("hall/desk/a:b", 1, Nine) { Alarms = 1 };
        FindingEpisode[] episodes =
        [
            raised with { Cleared = Nine + TimeSpan.FromSeconds(59) },
            raised with { Key = "hall/desk/late:b", Cleared = Nine + TimeSpan.FromSeconds(60) },
            raised with { Key = "hall/desk/known:b", Cleared = Nine + TimeSpan.FromSeconds(59), AcknowledgedAt = Nine + TimeSpan.FromSeconds(20) },
            raised with { Key = "hall/desk/untold:b", Cleared = Nine + TimeSpan.FromSeconds(5), Alarms = 0 },
            raised with { Key = "hall/desk/open:b" },
        ];
        Assert.Equal(["hall/desk/a:b"], AlarmLoad.Of([], episodes, [], []).Fleeting);
    }

    [Fact]
    public void Stale_are_those_that_stand_for_more_than_a_day_at_the_same_time()
    {
        FindingEpisode Stood(int from, int? to) => new($"hall/desk/x:{from}", 1, Nine + TimeSpan.FromHours(from)) { Cleared = to is { } end ? Nine + TimeSpan.FromHours(end) : null };
        TimeStretch[] watched = [new(Nine, Nine + TimeSpan.FromHours(100))];
        Assert.Equal(2, AlarmLoad.Of([], [Stood(0, 30), Stood(1, 25), Stood(2, null), Stood(40, 65), Stood(80, null)], [], watched).Stale); // 24-30, none, 26-100, 64-65, none
        Assert.Equal(1, AlarmLoad.Of([], [Stood(0, 30), Stood(6, 40)], [], watched).Stale); // one ends as the other becomes stale
    }

    [Fact]
    public void Mix_and_most_frequent_are_of_announced_alarms()
    {
        // 80, 15 and 5 of a hundred: the mix of ISA-18.2, through summaries.
        var alarms = Enumerable.Range(0, 100).Select(static number => new Alarm(Nine, number < 20 ? "hall/desk/often:x" : $"hall/desk/x:{number}", number < 5 ? Severity.Urgent : number < 20 ? Severity.Warning : Severity.Notice)).ToList();
        var load = AlarmLoad.Of(alarms, [], [], [new TimeStretch(Nine, Nine + TimeSpan.FromMinutes(10))]);
        Assert.Equal((80, 15, 5), load.Mix);
        Assert.Equal(("hall/desk/often:x", 20), load.Top[0]);
        Assert.Equal((10, 0.29), (load.Top.Count, load.TopShare)); // 20 and nine others
        Assert.Equal((true, true, true, null), (Met(load, "urgent"), Met(load, "warnings"), Met(load, "notices"), Met(load, "top-10")));
    }

    [Fact]
    public void Any_alarms_are_counted_once_and_no_period_holds_more_than_the_peak() => Gen.Int[0, 7200].Array[0, 60].Sample(seconds =>
    {
        TimeSpan[] times = [.. seconds.Order().Select(static second => TimeSpan.FromSeconds(second))];
        var load = Of(times, TimeSpan.FromHours(2));
        var counts = Enumerable.Range(0, 12).Select(period => times.Count(time => time >= period * AlarmLoad.Period && (time < (period + 1) * AlarmLoad.Period || period == 11))).ToArray();
        Assert.Equal(counts.Count(static count => count > 10), load.PeriodsAboveTen);
        Assert.True(load.Peak <= times.Length && load.Peak >= counts.Take(11).Max());
        Assert.Equal(times.Length, load.Mix.Notice);
    });

    [Fact]
    public void Every_goal_names_its_source() => Assert.All(LoadFigure.Of(Of(Counts(3), TimeSpan.FromMinutes(10))), static figure => Assert.True(figure.Source.Length > 5 && figure.Goal.Length > 0));

    private static AlarmLoad Of(TimeSpan[] times, TimeSpan length) =>
        AlarmLoad.Of([.. times.Select(static time => new Alarm(Nine + time, "hall/desk/x:y", Severity.Notice))], [], [], [new TimeStretch(Nine, Nine + length)]);

    private static TimeSpan[] Counts(params int[] counts) =>
        [.. counts.SelectMany(static (count, period) => Enumerable.Range(0, count).Select(number => TimeSpan.FromMinutes(10 * period) + TimeSpan.FromSeconds(number * 40)))];

    private static LedgerEvent Event(double second, LedgerEventKind kind) => new(new Moment(TimeSpan.FromSeconds(second), Nine + TimeSpan.FromSeconds(second)), "hall/desk/x:y", 1, kind);

    private static bool? Met(AlarmLoad load, string figure) => LoadFigure.Of(load).Single(one => one.Id == figure).IsMet;
}
