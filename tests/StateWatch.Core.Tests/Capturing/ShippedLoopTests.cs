using StateWatch.Core.Capturing;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>Loops of the weekly show, on a desk as planned.</summary>
public class ShippedLoopTests
{
    private static readonly ShippedShow Weekly = ShippedShow.Of("saltmarsh-weekly");

    [Theory]
    [InlineData("Lectern", "room", 60)]
    [InlineData("Lectern", "fills", 120)]
    [InlineData("Singer 1", "wedges 1", 60)]
    public void Way_as_planned_is_seen_whole_and_few_questions_follow_it(string microphone, string loudspeaker, int most)
    {
        var plan = Weekly.Plan(Phase.Doors);
        var watch = new LoopWatch(plan, RoutingMap.Of(plan.Profile, plan), plan.Microphones.Single(strip => strip.Name == microphone), plan.Loudspeakers.Single(item => item.Words == loudspeaker));
        var desk = Weekly.CleanDesk();
        watch.Take(desk);
        Assert.Empty(watch.Unseen);
        Assert.Equal(watch.PlannedGain(), watch.Unmuted, 9);
        Assert.True(double.IsFinite(watch.Unmuted));
        var questions = watch.OnTheWay.Select(id => plan.Profile.Settings[id].Endpoint).Distinct().Count();
        Assert.InRange(questions, 5, most);
        watch.NoteSetup();
        Assert.Equal(watch.Setup.Fingerprint(desk), watch.NotedSetup);
    }

    [Fact] // The plan's own fingerprint of this loop.
    public void Noted_setup_is_what_the_plan_has_of_that_loop()
    {
        var plan = Weekly.Plan(Phase.Show);
        var coupling = plan.Couplings.Single(item => item.Setup is not null);
        var watch = new LoopWatch(plan, RoutingMap.Of(plan.Profile, plan), coupling.Microphone, plan.Loudspeakers[coupling.Loudspeaker]);
        watch.Take(Weekly.CleanDesk());
        watch.NoteSetup();
        Assert.Equal(coupling.Setup, watch.NotedSetup);
    }

    [Fact]
    public void Desk_of_the_show_is_not_ready_and_says_why()
    {
        var plan = Weekly.Plan(Phase.Doors);
        var watch = new LoopWatch(plan, RoutingMap.Of(plan.Profile, plan), plan.Microphones.Single(strip => strip.Name == "Lectern"), plan.Loudspeakers.Single(item => item.Words == "room"));
        watch.Take(Weekly.CleanDesk());
        var open = LoopChecks.BeforeRing(watch).Open;
        Assert.Equal(4, open.Count);
        Assert.Equal("Lectern (input/29) is open at room: mute it until a round begins.", open[0]);
        Assert.Matches("^Singer 1 .*, Choir 4 .input/24. and [0-9]+ more are open at room too: mute them[.]$", open[1]);
        Assert.StartsWith("Lectern (input/29) also goes to fills, ears, stream, loop, overflow, record: ", open[2], StringComparison.Ordinal);
        Assert.Equal("The automix of Lectern (input/29) is on: bypass it.", open[3]);
        Assert.NotNull(watch.Meters.Lacks);
    }
}
