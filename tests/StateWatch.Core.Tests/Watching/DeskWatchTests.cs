using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>The watch of one desk, from what hands do to what is told.</summary>
public class DeskWatchTests
{
    private const string Tap = "input/12/send/mix/3/tap";

    [Fact]
    public void Clean_desk_is_followed_and_nothing_is_told()
    {
        using var show = WatchedShow.Midwinter();
        show.Run(600);
        Assert.Empty(show.Told);
        var status = show.Watch.Status;
        Assert.Equal(status.Coverage.Planned, status.Coverage.Verified);
        Assert.Empty(status.Standing);
        Assert.Contains(show.Happenings, static happening => happening.Kind == ShowEventKind.ReadEnded);
    }

    [Fact]
    public void Send_that_is_turned_is_told_once_with_its_words_and_cleared_when_it_is_turned_back()
    {
        using var show = WatchedShow.Midwinter();
        var before = show.Get(Tap);
        show.Set(Tap, "post-fader");
        show.Run(30);
        var alert = Assert.Single(show.Alerts);
        Assert.Equal((LevelKind.Raised, "light"), (alert.Told.Level.Kind, alert.Told.Sink));
        Assert.Equal((Tap, "post-fader"), (alert.Words!.Setting, alert.Words.Live));
        Assert.NotEmpty(alert.Words.Do);
        Assert.Equal(alert.Told.Key, Assert.Single(show.Watch.Status.Standing).Record.Key);

        show.Set(Tap, before);
        show.Run(30);
        Assert.Equal([LevelKind.Raised, LevelKind.None], show.Alerts.Select(static one => one.Told.Level.Kind));
        Assert.Equal(alert.Words, show.Alerts.Last().Words);
        Assert.Empty(show.Watch.Status.Standing);
        Assert.Equal([(Tap, before, "post-fader"), (Tap, "post-fader", before)], show.Changes.Select(static change => (change.Setting, change.Before!, change.After!)));
    }

    [Fact]
    public void Desk_that_dies_is_one_finding_and_clears_nothing()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        show.Desk.Silent = true;
        show.Run(60);
        Assert.Equal(["source-unreachable:desk Raised"], show.Told.Skip(1));
        Assert.Contains("does not answer", show.Alerts.Last().Words!.Text, StringComparison.Ordinal);
        Assert.Equal(2, show.Watch.Status.Standing.Count);

        show.Desk.Silent = false;
        show.Run(60);
        Assert.Equal(["source-unreachable:desk None"], show.Told.Skip(2));
        Assert.Single(show.Watch.Status.Standing);
    }

    [Fact]
    public void What_was_turned_while_the_desk_was_away_is_told_when_it_is_back()
    {
        using var show = WatchedShow.Midwinter();
        show.Desk.Silent = true;
        show.Run(60);
        show.Set(Tap, "post-fader");
        show.Desk.Silent = false;
        show.Run(60);
        Assert.Equal(["source-unreachable:desk Raised", "source-unreachable:desk None"], show.Told.Where(static told => told.Contains("unreachable", StringComparison.Ordinal)));
        Assert.Single(show.Told, static told => told.Contains(Tap, StringComparison.Ordinal));
    }

    [Fact]
    public void Desk_that_asks_to_be_read_again_and_again_is_watched_by_what_is_seen()
    {
        using var show = WatchedShow.Midwinter();
        for (var second = 0; second < 40; second++)
        {
            show.Desk.Recall([]);
            show.Run(0.8);
        }

        Assert.Equal(["incomplete-view:desk Raised"], show.Told);
        show.Set(Tap, "post-fader");
        for (var second = 0; second < 40; second++)
        {
            show.Desk.Recall([]);
            show.Run(0.8);
        }

        Assert.Contains(show.Told, static told => told.Contains(Tap, StringComparison.Ordinal));
        show.Run(30);
        Assert.Contains("incomplete-view:desk None", show.Told);
    }

    [Fact]
    public void What_is_put_aside_is_put_aside_until_the_event_is_over()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        var key = show.Alerts.Single().Told.Key;
        Assert.True(show.Order(reply => new HoldFindingOrder(key, "Ada", "spare", TimeSpan.FromDays(20), false) { Reply = reply }).IsDone);
        var end = ShowSchedule.Of(show.Watch.Plan.Document)!.EventEnd(show.Watch.Status.At.Wall)!.Value;
        show.Run(0.2);
        var shelf = show.Watch.Status.Standing.Single().Record.Shelf!;
        var until = show.Watch.Status.At.Wall + (shelf.Until - show.Watch.Status.At.Clock);
        // The virtual clock begins on a Thursday, and the hall is rigged on Saturdays.
        Assert.InRange(until, end, end.AddMinutes(1));

        Assert.True(show.Begin(Phase.Build).IsDone);
        show.Run(1);
        Assert.Null(show.Watch.Status.Standing.Single().Record.Shelf);
        Assert.Equal(LevelKind.Raised, show.Alerts.Last().Told.Level.Kind);
        Assert.Contains(show.Outputs.SelectMany(static output => output.Events), static line => line is { Kind: LedgerEventKind.HoldEnded, Text: "shelved: the event is over" });
    }

    [Fact]
    public void Another_desk_is_told_as_such()
    {
        using var show = WatchedShow.Midwinter();
        show.Desk.IdentityAnswer = ["Rowan 16", "1.0"];
        show.Run(60);
        Assert.Contains("another desk answers", Assert.Single(show.Alerts).Words!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_desk_in_place_of_one_that_does_not_answer_is_said_by_the_status()
    {
        using var show = WatchedShow.Midwinter();
        show.Desk.Silent = true;
        show.Run(60);
        Assert.Contains("does not answer", Assert.Single(show.Watch.Status.Standing).Words!.Text, StringComparison.Ordinal);
        show.Desk.IdentityAnswer = ["Rowan 16", "1.0"];
        show.Desk.Silent = false;
        show.Run(60);
        Assert.Contains("another desk answers", Assert.Single(show.Watch.Status.Standing).Words!.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.3)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1.1)]
    [InlineData(1.5)]
    public void Phase_that_begins_while_only_unanswered_questions_are_left_loses_no_read(double at)
    {
        var desk = Desks.Following.FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(Phase.Show)));
        desk.Unanswered = new HashSet<int> { desk.Profile.Find("socket/stage-7/phantom") };
        using var show = new WatchedShow(desk, WatchedShow.PlanOf(DemoShow.PlanText), Phase.Doors);
        show.Set(Tap, "post-fader");
        show.Run(at);
        Assert.True(show.Begin(Phase.Show).IsDone);
        show.Run(15);
        Assert.Contains(show.Happenings, static line => line.Kind == ShowEventKind.ReadEnded);
        Assert.Contains(show.Told, static told => told.Contains(Tap, StringComparison.Ordinal));
        show.Run(60);
        Assert.DoesNotContain(show.Told, static told => told.StartsWith("incomplete-view", StringComparison.Ordinal));
    }

    [Fact]
    public void Finding_weighs_what_it_weighs_in_the_phase()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        var severity = Assert.Single(show.Alerts).Told.Level.Severity;
        Assert.Equal(Severity.Warning, severity);
        Assert.True(show.Begin(Phase.Build).IsDone);
        show.Run(10);
        Assert.Equal(Phase.Build, show.Watch.Status.Phase);
        Assert.Contains(show.Happenings, static happening => happening is { Kind: ShowEventKind.PhaseBegan, Text: "build", By: "Ada" });
        Assert.Equal((LevelKind.Raised, Severity.Notice), (show.Alerts.Last().Told.Level.Kind, show.Alerts.Last().Told.Level.Severity));
    }

    [Fact]
    public void Refused_plan_leaves_the_one_before_and_is_journaled()
    {
        using var show = WatchedShow.Midwinter();
        var plan = show.Watch.Plan;
        var result = show.Order(reply => new ReloadOrder(null, "midwinter.plan.yaml:3:1: unknown key", "reload") { Reply = reply });
        Assert.False(result.IsDone);
        Assert.Same(plan, show.Watch.Plan);
        Assert.Contains(show.Happenings, static happening => happening.Kind == ShowEventKind.PlanRefused);
    }

    [Fact]
    public void Same_plan_read_anew_resets_no_timer_and_tells_nothing()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        var told = show.Alerts.Count();
        var raised = Assert.Single(show.Watch.Status.Standing).Record;
        Assert.True(show.Order(reply => new ReloadOrder(WatchedShow.PlanOf(DemoShow.PlanText), null, "reload") { Reply = reply }).IsDone);
        show.Run(30);
        Assert.Equal(told, show.Alerts.Count());
        Assert.Equal((raised.Episode, raised.RaisedAt), (show.Watch.Status.Standing[0].Record.Episode, show.Watch.Status.Standing[0].Record.RaisedAt));
    }

    [Fact]
    public void Watch_goes_on_from_what_was_stored_without_telling_anything_twice()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        var stored = show.Watch.Export();
        using var again = new WatchedShow(show.Desk, WatchedShow.PlanOf(DemoShow.PlanText), Phase.Build, stored, new Simulator.MemoryDeskReader(show.Desk));
        Assert.Equal(Phase.Show, again.Watch.Status.Phase);
        again.Run(60);
        Assert.Empty(again.Told);
        Assert.Single(again.Watch.Status.Standing);
        show.Set(Tap, "pre-fader");
        again.Run(60);
        Assert.Equal(show.Alerts.Single().Words, Assert.Single(again.Alerts).Words);
    }

    [Fact]
    public void Known_finding_is_acknowledged_by_its_short_id_and_a_wrong_one_says_what_to_do()
    {
        using var show = WatchedShow.Midwinter();
        show.Set(Tap, "post-fader");
        show.Run(10);
        var id = show.Alerts.Single().Told.Key[(WatchedShow.Key.Length + 1)..];
        Assert.True(show.Order(reply => new AcknowledgeOrder(id, "Ada") { Reply = reply }).IsDone);
        Assert.Equal(LevelKind.Acknowledged, show.Alerts.Last().Told.Level.Kind);
        var wrong = show.Order(reply => new AcknowledgeOrder("tap:nothing", "Ada") { Reply = reply });
        Assert.Equal(CommandOutcome.UnknownKey, wrong.Outcome);
        Assert.Contains("statewatch status", wrong.Text, StringComparison.Ordinal);
        Assert.Equal($"{id}: put aside for 2 h, or until it is cleared", PutAside(TimeSpan.FromHours(2), isOneShot: true));
        Assert.Equal($"{id}: put aside for 2 d 13 h; the event is over then", PutAside(TimeSpan.FromDays(90)));
        Assert.Equal($"{id}: put aside for 30 min", PutAside(null));
        Assert.Equal(LevelKind.Held, show.Alerts.Last().Told.Level.Kind);
        Assert.True(show.Order(reply => new ReleaseOrder(id, "Ada") { Reply = reply }).IsDone);
        Assert.Equal(LevelKind.Acknowledged, show.Alerts.Last().Told.Level.Kind);

        string PutAside(TimeSpan? span, bool isOneShot = false)
        {
            var result = show.Order(reply => new HoldFindingOrder(id, "Ada", "song with a click", span, isOneShot) { Reply = reply });
            Assert.True(result.IsDone);
            return result.Text;
        }
    }
}
