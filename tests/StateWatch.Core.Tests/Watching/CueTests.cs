using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>Cues: the plan changes at one moment, the desk takes its time.</summary>
public class CueTests
{
    [Theory]
    [InlineData(-0.2)]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(11)]
    public void Desk_that_gets_there_while_it_settles_tells_nothing(double after)
    {
        using var show = WatchedShow.Play("Kitchen");
        if (after < 0)
        {
            show.Recall("Storm");
            show.Run(-after);
        }

        Assert.True(show.Cue("Storm").IsDone);
        Assert.Equal("Storm", show.Outputs[^1].Standing.Cue);
        if (after >= 0)
        {
            show.Run(after);
            show.Recall("Storm");
        }

        show.Run(60);
        Assert.Empty(show.Told);
        Assert.Contains(show.Happenings, static happening => happening is { Kind: ShowEventKind.CueBegan, Text: "Storm", By: "Ada" });
        Assert.NotEmpty(show.Changes);
    }

    [Fact]
    public void Cue_that_the_desk_never_gets_to_is_one_finding_when_the_time_is_over()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        // This desk is asked in rounds of 2 s, so its 12 s to settle are known to be over after 14.
        show.Run(13.9);
        Assert.Empty(show.Told);
        show.Run(3);
        Assert.Equal("bulk-change:desk Raised", Assert.Single(show.Told));
        show.Recall("Storm");
        show.Run(60);
        Assert.Equal(["bulk-change:desk Raised", "bulk-change:desk None"], show.Told);
    }

    [Fact]
    public void What_the_cue_does_not_touch_is_told_while_it_settles()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        show.Set("output/stage-1/source", "none");
        show.Run(5);
        Assert.Contains(show.Told, static told => told.Contains("output/stage-1", StringComparison.Ordinal));
        Assert.All(show.Alerts, static alert => Assert.Equal("Storm", alert.Cue));
    }

    [Fact]
    public void Cue_that_ends_leaves_the_plan_of_the_phase()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue(null).IsDone);
        Assert.Null(show.Outputs[^1].Standing.Cue);
        Assert.Equal(CommandOutcome.NotHeld, show.Cue(null).Outcome);
        var wrong = show.Cue("Kitchn");
        Assert.Equal(CommandOutcome.UnknownKey, wrong.Outcome);
        Assert.Contains("did you mean 'Kitchen'? Its cues: ", wrong.Text, StringComparison.Ordinal);
        Assert.Contains("has no cue 'Xylophone'. Its cues: ", show.Cue("Xylophone").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Phase_ends_the_cue()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Begin(Phase.Build).IsDone);
        Assert.Null(show.Watch.Status.Cue);
        Assert.True(show.Cue("Storm").IsDone);
        show.Run(0.2);
        Assert.Equal((Phase.Show, "Storm"), (show.Watch.Status.Phase, show.Watch.Status.Cue));
        // A show that begins by a cue is a show to whoever reads the journal.
        Assert.Equal([(ShowEventKind.PhaseBegan, "build", Phase.Build), (ShowEventKind.PhaseBegan, "show", Phase.Show), (ShowEventKind.CueBegan, "Storm", Phase.Show)],
            show.Happenings.TakeLast(3).Select(static happening => (happening.Kind, happening.Text, happening.Phase)));
    }

    [Theory]
    [InlineData(0.15)]
    [InlineData(5)]
    public void Cue_that_is_called_twice_goes_on_settling(double after)
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        show.Run(after);
        var again = show.Cue("Storm");
        Assert.Equal((CommandOutcome.Done, "Storm it is already"), (again.Outcome, again.Text));
        show.Run(11 - after);
        Assert.Empty(show.Told);
        Assert.Single(show.Happenings, static happening => happening is { Kind: ShowEventKind.CueBegan, Text: "Storm" });
        show.Recall("Storm");
        show.Run(60);
        Assert.Empty(show.Told);
    }

    [Fact]
    public void Cue_that_is_called_again_long_after_it_settled_changes_nothing()
    {
        using var show = WatchedShow.Play("Kitchen");
        show.Set("output/stage-1/source", "none");
        show.Run(5);
        var told = show.Told.ToList();
        Assert.NotEmpty(told);
        Assert.True(show.Cue("Kitchen").IsDone);
        show.Run(30);
        Assert.Equal(told, show.Told);
    }

    [Fact]
    public void Next_cue_that_comes_early_leaves_the_time_of_what_both_move()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        show.Run(1);
        Assert.True(show.Cue("Curtain call").IsDone);
        show.Run(9);
        Assert.Empty(show.Told);
        show.Recall("Curtain call");
        show.Run(60);
        Assert.Empty(show.Told);
    }

    [Fact]
    public void Next_cue_of_a_desk_that_does_not_move_is_one_finding_too()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        show.Run(1);
        Assert.True(show.Cue("Curtain call").IsDone);
        show.Run(20);
        Assert.Equal("bulk-change:desk Raised", Assert.Single(show.Told));
    }

    [Fact]
    public void Plan_read_anew_while_a_cue_settles_leaves_it_its_time()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.True(show.Cue("Storm").IsDone);
        show.Run(1);
        Assert.True(show.Order(reply => new ReloadOrder(show.Watch.Plan, null, "reload") { Reply = reply }).IsDone);
        show.Run(12);
        Assert.Empty(show.Told);
        show.Run(4);
        Assert.Equal("bulk-change:desk Raised", Assert.Single(show.Told));
    }

    [Fact]
    public void Plan_read_anew_that_has_no_such_cue_ends_it_and_says_so()
    {
        using var show = WatchedShow.Play("Kitchen");
        var since = show.Watch.Status.Since;
        var result = show.Order(reply => new ReloadOrder(WithoutKitchen(), null, "Ada") { Reply = reply });
        Assert.Equal((true, "the plan was read anew; it has no cue 'Kitchen', so the plan of show holds"), (result.IsDone, result.Text));
        Assert.Contains(show.Happenings, static happening => happening is { Kind: ShowEventKind.CueEnded, Text: "Kitchen", By: "Ada" });
        Assert.True(show.Watch.Status.Since > since);
        Assert.Null(show.Watch.Status.Cue);
    }

    [Fact]
    public void Watch_that_begins_again_with_a_plan_without_the_cue_says_that_it_ended()
    {
        using var show = WatchedShow.Play("Kitchen");
        using var again = new WatchedShow(show.Desk, WithoutKitchen(), Phase.Show, show.Watch.Export(), new Simulator.MemoryDeskReader(show.Desk));
        again.Run(1);
        Assert.Equal([ShowEventKind.WatchBegan, ShowEventKind.CueEnded], again.Happenings.Take(2).Select(static happening => happening.Kind));
        Assert.Null(again.Watch.Status.Cue);
    }

    [Fact]
    public void Cue_that_is_not_there_names_forty_that_are()
    {
        var cues = string.Join('\n', Enumerable.Range(1, 60).Select(static number => $"  Song {number}: {{ open: [talker] }}"));
        using var show = new WatchedShow(Desks.Following.FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(Phase.Show))), WatchedShow.PlanOf($"{DemoShow.PlanText}\ncues:\n{cues}\n"), Phase.Show);
        Assert.EndsWith("Song 39, Song 40 and 20 more", show.Cue("Xylophone").Text, StringComparison.Ordinal);
    }

    private static WatchedPlan WithoutKitchen()
    {
        var play = ShippedShow.Of("lantern-rock");
        return new WatchedPlan(play.Document(play.PlanText.Replace("Kitchen", "Pantry", StringComparison.Ordinal))!, play.Profile, "fedcba9876543210");
    }
}
