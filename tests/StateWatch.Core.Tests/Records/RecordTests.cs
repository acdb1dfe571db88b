using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.Tests.History;

namespace StateWatch.Core.Tests.Records;

/// <summary>Shows, strips, coverage and episodes from recorded lines.</summary>
public sealed class RecordTests
{
    private static readonly DateTimeOffset Nine = new(2026, 11, 29, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Show_lasts_until_another_phase_begins()
    {
        var shows = Shows([Phase(0, "doors"), Phase(30, "show"), Phase(100, "build"), Phase(150, "show"), Phase(200, "build")], Minutes(0, 200), 300);
        Assert.Equal([(30, 100, true), (150, 200, true)], shows);
    }

    [Fact]
    public void Show_without_an_end_goes_on() => Assert.Equal([(30, null, false)], Shows([Phase(30, "show")], Minutes(0, 90), 95));

    [Fact]
    public void When_somebody_pulled_the_plug_the_last_sample_is_the_end() =>
        Assert.Equal([(30, 112, false)], Shows([Phase(30, "show"), Began(10_000, Core.Plans.Phase.Build)], Minutes(30, 112), 10_010));

    [Fact]
    public void Plug_that_was_pulled_a_week_ago_is_an_end_too() => Assert.Equal([(30, 112, false)], Shows([Phase(30, "show")], Minutes(30, 112), 10_000));

    [Fact]
    public void Restart_within_an_hour_does_not_end_a_show() =>
        Assert.Equal([(30, 140, true)], Shows([Phase(30, "show"), Ended(60), Began(100, Core.Plans.Phase.Show), Phase(140, "build")], [.. Minutes(30, 60), .. Minutes(100, 140)], 200));

    [Fact]
    public void Watch_that_was_ended_in_order_ends_the_show() => Assert.Equal([(30, 60, true)], Shows([Phase(30, "show"), Ended(60)], Minutes(30, 60), 65));

    [Fact]
    public void Watch_that_begins_in_a_show_begins_one() => Assert.Equal([(0, 50, true)], Shows([Began(0, Core.Plans.Phase.Show), Phase(50, "build")], Minutes(0, 50), 60));

    [Fact]
    public void Box_that_was_unplugged_in_a_show_has_none_when_the_schedule_begins_another_phase_at_once()
    {
        RecordedShowEvent[] lines = [Phase(0, "show"), Began(10_000, Core.Plans.Phase.Show), At(Phase(10_000, "doors"), seconds: 1), Phase(10_060, "show"), Phase(10_160, "build")];
        Assert.Equal([(0, 80, false), (10_060, 10_160, true)], Shows(lines, [.. Minutes(0, 80), .. Minutes(10_001, 10_160)], 10_200));
    }

    [Fact]
    public void Box_that_was_unplugged_in_a_show_and_is_started_again_in_it_within_the_hour_goes_on_also_when_another_phase_ends_it_at_once() =>
        Assert.Equal([(0, 101, true)], Shows([Phase(0, "show"), Began(101, Core.Plans.Phase.Show), At(Phase(101, "build"), seconds: 1)], Minutes(0, 80), 200));

    [Fact]
    public void Watch_that_begins_in_a_show_and_is_ended_at_once_had_none() =>
        Assert.Equal([(2, 50, true)], Shows([Began(0, Core.Plans.Phase.Show), At(Ended(0), seconds: 20), Began(2, Core.Plans.Phase.Show), Phase(50, "build")], [], 60));

    [Fact]
    public void Desks_have_shows_of_their_own()
    {
        RecordedShowEvent[] lines = [Phase(0, "show"), Phase(5, "show") with { Desk = "hall/monitors" }, Phase(20, "build")];
        Assert.Equal(["hall/desk", "hall/monitors"], ShowPeriods.Of(lines, [], Nine + TimeSpan.FromMinutes(30)).Select(static show => show.Desk));
    }

    [Fact]
    public void Changes_are_gathered_by_strip_in_the_order_of_numbers()
    {
        RecordedChange[] changes =
        [
            Change(1, "input/10/on", "on", "off", true), Change(2, "input/2/fader", "-10.0 dB", "-9.0 dB"), Change(3, "input/2/fader", "-9.0 dB", "-8.0 dB"), Change(4, "input/10/on", "off", "on", true),
            Change(5, "desk/scene", null, "Sermon"), Change(6, "input/2/send/mix/3/on", "off", "on"),
        ];
        var strips = StripChanges.Of(changes, new Dictionary<string, string> { ["hall/desk/input/2"] = "Lectern" });
        Assert.Equal([("desk", null), ("input/2", "Lectern"), ("input/10", null)], strips.Select(static strip => (strip.Strip, strip.Name)));
        Assert.Equal(new SettingMove("input/2/fader", false, 2, Nine.AddMinutes(2), Nine.AddMinutes(3), "-10.0 dB", "-8.0 dB"), strips[1].Moves[0]);
        var back = Assert.Single(strips[2].Moves);
        Assert.Equal((false, true, 2), (back.Differs, back.IsPlanned, back.Changes));
    }

    [Theory]
    [InlineData("input/31/send/mix/3/tap", "input/31")]
    [InlineData("socket/stage-12/gain", "socket/stage-12")]
    [InlineData("desk/talk/1/to/main", "desk")]
    [InlineData("odd", "odd")]
    public void Strip_of_a_setting_is_its_first_two_parts(string setting, string strip) => Assert.Equal(strip, StripChanges.StripOf(setting));

    [Fact]
    public void Coverage_tells_the_worst_the_mean_and_where_nobody_watched()
    {
        // Ten minutes seen whole but for one sample of 40 %, then nobody for 50 minutes, then one sample.
        var samples = Enumerable.Range(1, 10).Select(static minute => Sample(minute, minute == 4 ? 40 : 100)).Append(Sample(60, 100)).ToList();
        var record = CoverageRecord.Of("hall/desk", samples, Nine, Nine.AddMinutes(60.5));
        Assert.Equal((11, 0.4, Nine.AddMinutes(4)), (record.Whole.Samples, record.Whole.Worst, record.WorstAt));
        Assert.Equal(10.4 / 11, record.Whole.Mean!.Value, 12);
        Assert.Equal([new TimeStretch(Nine.AddMinutes(10), Nine.AddMinutes(59))], record.Gaps);
        Assert.Equal(61, record.Parts.Count); // a minute each, and the half
        Assert.Equal((0, null), (record.Parts[30].Samples, record.Parts[30].Worst));
        Assert.Equal(11, record.Parts.Sum(static part => part.Samples));
    }

    [Fact]
    public void Coverage_of_a_long_time_has_at_most_96_parts_and_of_no_sample_is_one_gap()
    {
        var record = CoverageRecord.Of("hall/desk", [], Nine, Nine.AddDays(30));
        Assert.InRange(record.Parts.Count, 90, 97);
        Assert.Equal(Nine.AddDays(30), record.Parts[^1].Time.To);
        Assert.Equal([new TimeStretch(Nine, Nine.AddDays(30))], record.Gaps);
        Assert.Null(record.WorstAt);
    }

    [Fact]
    public void Episodes_of_a_real_ledger_tell_when_and_for_how_long_and_who_knew()
    {
        var story = new DeskStory();
        var outputs = new List<WatchOutput>();
        story.Drift(0, Severity.Urgent);
        story.Wait(20.3); // counts after 0.3 s
        story.Ledger.Acknowledge(story.KeyOf(0), "Ada", story.Now);
        story.Wait(9.7);
        story.Match(0);
        story.Wait(2); // cleared after 2 s
        outputs.Add(story.Take());
        story.Drift(0, Severity.Urgent); // within a minute: the episode goes on, and somebody knows
        story.Wait(10);
        story.Match(0);
        story.Wait(100);
        story.Drift(1, Severity.Notice);
        story.Wait(50);
        outputs.Add(story.Take());

        var episodes = Of(outputs, story.Now.Wall);
        Assert.Equal([story.KeyOf(0), story.KeyOf(1)], episodes.Select(static episode => episode.Key));
        var first = episodes[0];
        Assert.Equal((DeskStory.Morning.AddSeconds(0.3), DeskStory.Morning.AddSeconds(44), "recovered"), (first.Raised, first.Cleared, first.ClearedFor));
        Assert.Equal((43.7, 1, "Ada", DeskStory.Morning.AddSeconds(20.3)), (first.Stood(story.Now.Wall).TotalSeconds, first.Relapses, first.AcknowledgedBy, first.AcknowledgedAt));
        Assert.Equal((Severity.Urgent, "input/1 is muted", 1), (first.Severity, first.Words?.Text, first.Alarms));
        Assert.Equal((null, Severity.Notice, 48.0), (episodes[1].Cleared, episodes[1].Severity, episodes[1].Stood(story.Now.Wall).TotalSeconds));
    }

    [Fact]
    public void Members_of_a_bulk_change_are_folded_and_what_was_shelved_says_so()
    {
        var story = new DeskStory(checks: 40);
        story.Wait(5);
        for (var check = 0; check < 30; check++)
            story.Drift(check);
        story.Wait(20);
        story.Drift(35);
        story.Wait(20);
        story.Ledger.Shelve(story.KeyOf(35), "Ada", "a guest", TimeSpan.FromMinutes(5), false, story.Now);
        story.Wait(1);
        var episodes = Of([story.Take()], story.Now.Wall);
        Assert.Equal(30, episodes.Count(static episode => episode.IsFolded));
        Assert.All(episodes.Where(static episode => episode.IsFolded), static episode => Assert.Equal(["inhibited"], episode.Holds));
        var bulk = Assert.Single(episodes, static episode => episode.Key.Contains("bulk-change", StringComparison.Ordinal));
        Assert.Equal((1, 0), (bulk.Alarms, bulk.Holds.Count));
        Assert.Equal(["shelved"], Assert.Single(episodes, episode => episode.Key == story.KeyOf(35)).Holds);
    }

    [Fact]
    public void Formulas_and_separators_cannot_leave_their_field()
    {
        Assert.Equal(["-10.0 dB", "-inf dB", "'=1+1", "'@x", "'-1+cmd|' /C calc'!A0", "\"a,b\"", "\"say \"\"hi\"\"\"", "'-sum", ""],
            new[] { "-10.0 dB", "-inf dB", "=1+1", "@x", "-1+cmd|' /C calc'!A0", "a,b", "say \"hi\"", "-sum", "" }.Select(HistoryCsv.Field));
    }

    [Theory]
    [InlineData(0.4, "0 s")]
    [InlineData(59.6, "1 min")]
    [InlineData(4920, "1 h 22 min")]
    [InlineData(90_000, "1 d 1 h")]
    public void Lengths_are_told_in_their_two_largest_units(double seconds, string text) => Assert.Equal(text, HistoryWords.Of(TimeSpan.FromSeconds(seconds)));

    [Fact]
    public void Not_quite_all_is_never_told_as_all() => Assert.Equal(["99.9 %", "100.0 %", "57.0 %"], new[] { 0.99999, 1, 0.57 }.Select(HistoryWords.Percent));

    private static IReadOnlyList<FindingEpisode> Of(List<WatchOutput> outputs, DateTimeOffset now)
    {
        var alerts = outputs.SelectMany(static output => output.Alerts).Where(static alert => alert.Told.Sink == "light");
        var announced = alerts.Select(static alert => new RecordedAnnouncement("hall/desk", alert.Told.Id, alert.Told.Key, alert.Told.At.Wall, alert.Told.Level, alert.Told.Digest is not null, alert.Words));
        return FindingEpisodes.Of(outputs.SelectMany(static output => output.Events), announced, [], DeskStory.Morning, now);
    }

    private static IEnumerable<(int Began, int? Ended, bool IsEndSeen)> Shows(RecordedShowEvent[] lines, IEnumerable<int> samples, int now) =>
        ShowPeriods.Of(lines, samples.Select(static minute => Sample(minute, 100)), Nine.AddMinutes(now))
            .Select(static show => ((int)(show.Began - Nine).TotalMinutes, show.Ended is { } end ? (int?)(end - Nine).TotalMinutes : null, show.IsEndSeen));

    private static IEnumerable<int> Minutes(int from, int to) => Enumerable.Range(from, to - from + 1);

    private static RecordedShowEvent Phase(int minute, string phase) => Line(minute, ShowEventKind.PhaseBegan, phase, Core.Plans.Phase.Show);

    private static RecordedShowEvent Began(int minute, Phase phase) => Line(minute, ShowEventKind.WatchBegan, "Midwinter", phase);

    private static RecordedShowEvent Ended(int minute) => Line(minute, ShowEventKind.WatchEnded, "Midwinter", Core.Plans.Phase.Show);

    private static RecordedShowEvent Line(int minute, ShowEventKind kind, string text, Phase phase) => new("hall/desk", new ShowEvent(Nine.AddMinutes(minute), "Midwinter", phase, kind, text));

    private static RecordedShowEvent At(RecordedShowEvent line, int seconds) => line with { Event = line.Event with { At = line.Event.At.AddSeconds(seconds) } };

    private static RecordedCoverage Sample(int minute, int verified) => new("hall/desk", new CoverageSample(Nine.AddMinutes(minute), 100, verified, 0));

    private static RecordedChange Change(int minute, string setting, string? before, string? after, bool planned = false) => new("hall/desk", new SettingChange(Nine.AddMinutes(minute), setting, before, after, planned));
}
