using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.Tests.History;

namespace StateWatch.Core.Tests.Records;

/// <summary>
/// A Sunday at one desk as its record tells it: on at 09:00 UTC, show from 09:30 to 10:50; a muted voice that somebody acknowledged, one that came and
/// went, a silent desk, a fader that was ridden, and a name with what no name should hold.
/// </summary>
internal static class RecordedShow
{
    public static readonly DateTimeOffset Evening = DeskStory.Morning.AddHours(9);

    public static HistoryLines Lines { get; } = Tell();

    public static HistoryReport Report(HistoryParts parts, string? desk = "hall/desk")
    {
        var show = ShowPeriods.Of(Lines.Shows, Lines.Coverage, Evening).Single();
        return HistoryReport.Of(new HistoryQuestion(Evening, "/var/lib/statewatch", desk, new TimeStretch(show.Began, show.Ended!.Value), parts) { Show = show }, Lines);
    }

    private static HistoryLines Tell()
    {
        var story = new DeskStory();
        var outputs = new List<WatchOutput>();
        story.Phase = Phase.Doors;
        story.Tell(ShowEventKind.WatchBegan, "Midwinter, plan 9f86d081884c");
        Watch(30 * 60);
        story.Phase = Phase.Show;
        story.Tell(ShowEventKind.PhaseBegan, "show", "schedule");
        Watch(600);
        story.Drift(0, Severity.Urgent);
        Watch(21);
        story.Ledger.Acknowledge(story.KeyOf(0), "Ada", story.Now);
        Watch(99);
        story.Match(0);
        story.Cue = "Sermon";
        story.Tell(ShowEventKind.CueBegan, "Sermon", "Ada");
        Watch(600);
        story.Drift(2, Severity.Warning);
        Watch(10);
        story.Match(2);
        Watch(30);
        story.Drift(2, Severity.Warning);
        Watch(20);
        story.Match(2);
        story.Tell(ShowEventKind.DeskSilent, "192.0.2.10:9000");
        Watch(240, verified: 10);
        story.Tell(ShowEventKind.SessionBegan, "192.0.2.10:9000");
        story.Move("input/12/fader", "-10.0 dB", "-8.0 dB");
        Watch(60);
        story.Move("input/12/fader", "-8.0 dB", "-6.5 dB");
        story.Move("input/12/name", "Choir 4", "=Choir, \"4\"\u001B[31m");
        story.Move("desk/scene", "Opening", "Sermon");
        story.Drift(1, Severity.Notice); // nobody puts it right
        Watch(3120);
        story.Phase = Phase.Build;
        story.Tell(ShowEventKind.PhaseBegan, "build", "schedule");
        Watch(60);
        story.Tell(ShowEventKind.WatchEnded, "Midwinter", "systemd");
        Take();
        var changes = outputs.SelectMany(static output => output.Changes.Select(change => new RecordedChange(output.Desk, change)));
        var told = outputs.SelectMany(static output => output.Alerts).Where(static alert => alert.Told.Sink == "light").Select(static alert =>
            new RecordedAnnouncement("hall/desk", alert.Told.Id, alert.Told.Key, alert.Told.At.Wall, alert.Told.Level, alert.Told.Digest is not null, alert.Words));
        return new HistoryLines(
            [.. outputs.SelectMany(static output => output.Happenings.Select(line => new RecordedShowEvent(output.Desk, line)))],
            [.. outputs.SelectMany(static output => output.Coverage.Select(sample => new RecordedCoverage(output.Desk, sample)))],
            [.. changes], [.. outputs.SelectMany(static output => output.Events)], [.. told], []);

        void Take() => outputs.Add(story.Take());

        void Watch(int seconds, int verified = 100)
        {
            Take();
            for (var second = 0; second < seconds; second++)
            {
                story.Wait(1);
                if ((story.Now.Wall - DeskStory.Morning).TotalSeconds % 60 == 0)
                    story.See(100, verified, verified == 100 ? 0 : 7);
            }

            Take();
        }
    }
}
