using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Alerts;

/// <summary>Alerts and desks of an invented house.</summary>
internal static class Some
{
    public const string Desk = "barn/midwinter";

    public static readonly DateTimeOffset Start = new(2026, 12, 6, 9, 40, 7, 120, TimeSpan.FromHours(1));

    public static readonly AlertWords Words = new("tap-wrong", "Ada Example is post-fader in the wedge", "The singer's level follows the room's fader.", "Set the send of Ada Example to pre-fader.")
    {
        Strip = "input/12",
        Name = "Ada Example",
        Setting = "input/12/send/mix/3/tap",
        Planned = "pre-fader",
        Live = "post-fader",
        PlanAt = "midwinter.plan.yaml:14:38",
    };

    public static string Key(int number, string desk = Desk) => $"{desk}/tap-wrong:input/{number}";

    /// <summary>One alert; each next transition of a key raises or clears.</summary>
    public static Alert Alert(string sink, string key, int transition, LevelKind? kind = null, Severity severity = Severity.Urgent) =>
        new(new Announcement(sink, key, new Level(kind ?? (transition % 2 == 1 ? LevelKind.Raised : LevelKind.None), severity, (transition + 1) / 2, transition),
            Condition.Active, new Moment(TimeSpan.FromSeconds(transition), Start + TimeSpan.FromSeconds(transition))), "Midwinter", Phase.Show, null)
        {
            Words = Words,
        };

    public static Alert Digest(string sink, int number, params (string Key, int Transition)[] lines) =>
        new(new Announcement(sink, $"{Desk}/digest", new Level(LevelKind.None, Severity.Warning, 0, number), Condition.Normal, new Moment(TimeSpan.FromSeconds(number), Start))
        {
            Digest = [.. lines.Select(line => new DigestLine(line.Key, new Level(LevelKind.Raised, Severity.Warning, (line.Transition + 1) / 2, line.Transition), 0, Severity.Warning))],
        }, "Midwinter", Phase.Show, "third song")
        {
            DigestWords = [.. lines.Select(static _ => Words)],
        };

    public static WaitingAlert Row(Alert alert, long row = 1, int gap = 0) => new(row, alert, gap) { RecordedAt = alert.Told.At.Wall + TimeSpan.FromMilliseconds(40) };

    public static DeskStatus Status(string desk = Desk) => new(desk, new Moment(TimeSpan.FromHours(1), Start), "Midwinter", Phase.Show, "third song", Start - TimeSpan.FromMinutes(4))
    {
        Address = "192.0.2.10:9000",
        Session = 2,
        SilentFor = TimeSpan.FromMilliseconds(80),
        ReadAgo = TimeSpan.FromMinutes(3),
        Coverage = new CoverageSample(Start, 1834, 1830, 2),
        Link = new LinkCounters(10, 9, 0, 0, 0, 0),
        Standing =
        [
            new StoredFinding(new FindingRecord(Key(12, desk)) { Check = new WatchedCheck("tap-wrong:input/12", TimerClass.Immediate), Level = new Level(LevelKind.Raised, Severity.Urgent, 1, 1), Severity = Severity.Urgent, Episode = 1 }, Words),
            new StoredFinding(new FindingRecord(Key(13, desk)) { Check = new WatchedCheck("tap-wrong:input/13", TimerClass.Immediate), Level = new Level(LevelKind.Held, Severity.Warning, 1, 2), Severity = Severity.Warning, Episode = 1 }, Words),
            new StoredFinding(new FindingRecord(Key(14, desk)) { Check = new WatchedCheck("tap-wrong:input/14", TimerClass.Immediate), Level = new Level(LevelKind.Acknowledged, Severity.Notice, 1, 2), Severity = Severity.Notice, Episode = 1 }, Words),
        ],
        Next = (Start + TimeSpan.FromMinutes(50), Phase.Build),
    };
}
