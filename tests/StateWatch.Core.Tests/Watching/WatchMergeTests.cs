using CsCheck;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>Two outputs stored as one leave behind what both leave behind one after the other.</summary>
public class WatchMergeTests
{
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Newer_ledger_standing_and_findings_win_and_journals_follow_each_other()
    {
        var older = Output(1) with { Findings = [Finding("a", 1), Finding("b", 1)], Events = [Event(1)], Changes = [Change(1, "input/1/on", "on", "off")], Happenings = [Happening(1)], Coverage = [Sample(1)], Alerts = [Told(1)] };
        var newer = Output(2) with { Findings = [Finding("b", 2), Finding("c", 2)], Events = [Event(2)], Changes = [Change(2, "input/1/on", "off", "on")], Happenings = [Happening(2)], Coverage = [Sample(2)], Alerts = [Told(2)] };
        var joined = WatchMerge.Join(older, newer);
        Assert.Same(newer.Ledger, joined.Ledger);
        Assert.Same(newer.Standing, joined.Standing);
        Assert.Equal([("a", 1), ("b", 2), ("c", 2)], joined.Findings.Select(finding => (finding.Record.Key, finding.Record.Episode)));
        Assert.Equal([.. older.Events, .. newer.Events], joined.Events);
        Assert.Equal([.. older.Changes, .. newer.Changes], joined.Changes);
        Assert.Equal([.. older.Happenings, .. newer.Happenings], joined.Happenings);
        Assert.Equal([.. older.Coverage, .. newer.Coverage], joined.Coverage);
        Assert.Equal([.. older.Alerts, .. newer.Alerts], joined.Alerts);
    }

    [Fact]
    public void Words_of_what_is_over_stay_with_it()
    {
        var words = new AlertWords("drift", "input 1 is muted", "Nobody hears it.", "Fader down first, then unmute it.");
        var joined = WatchMerge.Join(Output(1) with { Findings = [Finding("a", 1) with { Words = words }] }, Output(2) with { Findings = [Finding("a", 2)] });
        Assert.Equal((2, words), (joined.Findings.Single().Record.Episode, joined.Findings.Single().Words));
    }

    [Fact]
    public void Many_changes_of_one_setting_become_one_from_the_first_value_to_the_last()
    {
        var older = Output(1) with { Changes = [Change(1, "input/1/fader", "0 dB", "1 dB"), Change(2, "input/2/on", "on", "off"), Change(3, "input/1/fader", "1 dB", "2 dB")] };
        var newer = Output(2) with { Changes = [Change(4, "input/1/fader", "2 dB", "3 dB")] };
        Assert.Equal([Change(2, "input/2/on", "on", "off"), Change(4, "input/1/fader", "0 dB", "3 dB")], WatchMerge.Join(older, newer, most: 3).Changes);
    }

    [Fact]
    public void However_long_storing_fails_lines_are_bounded_and_alerts_are_kept()
    {
        var joined = Output(0);
        for (var i = 1; i <= 500; i++)
        {
            joined = WatchMerge.Join(joined, Output(i) with
            {
                Events = [Event(i)],
                Changes = [Change(i, $"input/{i}/on", "on", "off")],
                Happenings = [Happening(i)],
                Coverage = [Sample(i)],
                Alerts = [Told(i)],
            }, most: 50);
            Assert.All([joined.Events.Count, joined.Changes.Count, joined.Happenings.Count, joined.Coverage.Count], count => Assert.InRange(count, 1, 50));
        }

        Assert.Equal(500, joined.Alerts.Count);
        Assert.Equal((Event(500), Happening(500), Sample(500), Change(500, "input/500/on", "on", "off")), (joined.Events[^1], joined.Happenings[^1], joined.Coverage[^1], joined.Changes[^1]));
    }

    [Fact]
    public void Outputs_of_two_desks_are_not_joined() =>
        Assert.Throws<ArgumentException>(() => WatchMerge.Join(Output(1), Output(2) with { Desk = "here/other" }));

    [Fact]
    public void What_is_stored_is_the_same_whichever_of_three_are_joined_first() => Gen.Int[0, 5].Array[0, 6].Array[3].Sample(all =>
    {
        var outputs = all.Select((keys, at) => Output(at) with
        {
            Findings = [.. keys.Distinct().Select(key => Finding($"{key}", at))],
            Changes = [.. keys.Select((key, i) => Change((at * 10) + i, $"input/{key}/fader", $"{at}", $"{i}"))],
        }).ToArray();
        var left = WatchMerge.Join(WatchMerge.Join(outputs[0], outputs[1]), outputs[2]);
        var right = WatchMerge.Join(outputs[0], WatchMerge.Join(outputs[1], outputs[2]));
        return Stored(left) == Stored(right) && left.Changes.SequenceEqual(right.Changes);
    });

    private static string Stored(WatchOutput output) => string.Join(' ', output.Findings.Select(finding => $"{finding.Record.Key}={finding.Record.Episode}").Order(StringComparer.Ordinal));

    private static WatchOutput Output(int at) =>
        new("here/house", new LedgerState("here/house", Moment(at)), new ShowStanding("Small", Phase.Show, null, Start, $"{at}"));

    private static Moment Moment(int at) => new(TimeSpan.FromSeconds(at), Start + TimeSpan.FromSeconds(at));

    private static StoredFinding Finding(string key, int episode) => new(new FindingRecord(key) { Check = new WatchedCheck(key, TimerClass.Switch), Episode = episode }, null);

    private static LedgerEvent Event(int at) => new(Moment(at), "here/house/a", 1, LedgerEventKind.Raised);

    private static SettingChange Change(int at, string setting, string before, string after) => new(Start + TimeSpan.FromSeconds(at), setting, before, after, true);

    private static ShowEvent Happening(int at) => new(Start + TimeSpan.FromSeconds(at), "Small", Phase.Show, ShowEventKind.CueBegan, "Address");

    private static CoverageSample Sample(int at) => new(Start + TimeSpan.FromSeconds(at), 10, at, 0);

    private static Alert Told(int at) => new(new Announcement("lamp", "here/house/a", new Level(LevelKind.Raised, Severity.Urgent, 1, at), Condition.Active, Moment(at)), "Small", Phase.Show, null);
}
