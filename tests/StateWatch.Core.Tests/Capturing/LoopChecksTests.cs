using StateWatch.Core.Capturing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>What is still open on a desk before a loop is measured.</summary>
public class LoopChecksTests
{
    private static readonly string[] Ready = ["input/1/on = off", "input/2/on = off", "input/1/assign/main/1 = off", "input/1/send/mix/3/on = off", "input/1/send/mix/3/tap = post-fader", "input/1/send/mix/1/tap = post-fader"];

    [Fact]
    public void Desk_that_is_ready_for_a_ring_out_leaves_nothing_open()
    {
        var checks = LoopChecks.BeforeRing(new SmallRig().With(Ready).Watch());
        Assert.Empty(checks.Open);
        Assert.Empty(checks.Look);
    }

    [Theory]
    [InlineData("input/1/on = on", "Lectern (input/1) is open at wedges 1: mute it")]
    [InlineData("input/2/on = on", "Table (input/2) is open at wedges 1 too: mute it")]
    [InlineData("input/1/assign/main/1 = on", "Lectern (input/1) also goes to room: mute")]
    [InlineData("input/1/send/mix/3/on = on", "also goes to ears")]
    [InlineData("input/1/send/mix/1/on = off", "does not go to wedges 1, even with nothing muted")]
    [InlineData("output/stage-3/limiter/in = off", "limiter of output/stage-3 is out")]
    [InlineData("input/1/gate/on = on", "The gate of Lectern (input/1) is on: bypass it")]
    [InlineData("input/1/comp/on = on", "The compressor of Lectern (input/1) is on: bypass it")]
    [InlineData("input/1/automix = on", "The automix of Lectern (input/1) is on")]
    public void Each_thing_that_is_open_is_named(string line, string words)
    {
        var open = LoopChecks.BeforeRing(new SmallRig().With(Ready).With(line).Watch()).Open;
        Assert.Contains(words, Assert.Single(open), StringComparison.Ordinal);
    }

    [Fact]
    public void Muted_feed_counts_as_shut_to_the_microphone()
    {
        var rig = new SmallRig().With(Ready).With("input/1/assign/main/1 = on", "main/1/on = off");
        Assert.Empty(LoopChecks.BeforeRing(rig.Watch()).Open);
    }

    [Fact]
    public void Compressor_of_a_group_on_the_way_counts_and_one_elsewhere_does_not()
    {
        string[] byGroup = [.. Ready, "input/1/send/mix/1/on = off", "input/1/assign/group/1 = on", "group/1/assign/main/1 = on", "group/1/comp/on = on", "input/1/pan = 0 %"];
        Assert.Contains("compressor of Speech (group/1)", Assert.Single(LoopChecks.BeforeRing(new SmallRig().With(byGroup).Watch(loudspeaker: "room")).Open), StringComparison.Ordinal);
        Assert.Empty(LoopChecks.BeforeRing(new SmallRig().With(Ready).With("group/1/comp/on = on").Watch()).Open);
    }

    [Fact]
    public void Microphone_beside_the_middle_of_a_stereo_feed_is_told()
    {
        string[] toRoom = [.. Ready, "input/1/send/mix/1/on = off", "input/1/assign/main/1 = on", "input/1/pan = 30 %"];
        Assert.Contains("pan it to the middle", Assert.Single(LoopChecks.BeforeRing(new SmallRig().With(toRoom).Watch(loudspeaker: "room")).Open), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_inserted_is_left_to_the_eye()
    {
        var checks = LoopChecks.BeforeRing(new SmallRig().With(Ready).With("input/1/insert/1 = Hiss").Watch());
        Assert.Empty(checks.Open);
        Assert.Contains("inserted on Lectern", Assert.Single(checks.Look), StringComparison.Ordinal);
    }

    [Fact]
    public void Pad_is_left_to_the_eye()
    {
        var rig = new SmallRig().With(Ready).With("socket/stage-1/pad = on", "socket/stage-2/pad = on");
        Assert.Contains("pad of socket/stage-1", Assert.Single(LoopChecks.BeforeRing(rig.Watch()).Look), StringComparison.Ordinal);
        Assert.Contains("pad of socket/stage-1", Assert.Single(LoopChecks.BeforeNoise(rig.Watch()).Look), StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_not_seen_or_is_not_told_is_left_to_the_eye()
    {
        var rig = new SmallRig().With(Ready);
        rig.State.MarkUnseen(rig.Plan.Profile.Find("output/stage-3/limiter/in"), UnseenReason.NoReply);
        rig.State.MarkUnseen(rig.Plan.Profile.Find("input/1/gate/on"), UnseenReason.NoReply);
        var checks = LoopChecks.BeforeRing(rig.Watch());
        Assert.Empty(checks.Open);
        Assert.Equal(2, checks.Look.Count);
    }

    [Fact]
    public void Setup_that_changed_after_it_was_noted_is_told_gates_and_compressors_are_not()
    {
        var rig = new SmallRig().With(Ready).With("input/1/gate/on = on", "input/1/comp/on = on");
        var watch = rig.Watch();
        Assert.Null(watch.NotedSetup);
        watch.NoteSetup();
        var noted = watch.NotedSetup;
        Assert.Equal(watch.Setup.Fingerprint(rig.State), noted);
        watch.Take(rig.With("input/1/gate/on = off", "input/1/comp/on = off").State);
        Assert.Empty(LoopChecks.BeforeRing(watch).Open);
        watch.Take(rig.With("input/1/eq/on = on").State);
        Assert.Contains("input/1/eq/on changed", Assert.Single(LoopChecks.BeforeRing(watch).Open), StringComparison.Ordinal);
        Assert.Equal(noted, watch.NotedSetup);
    }

    [Fact]
    public void After_a_ring_out_the_fader_may_be_all_the_way_down_and_the_rest_still_counts()
    {
        var rig = new SmallRig().With(Ready).With("input/1/fader = -inf");
        Assert.Empty(LoopChecks.AfterRing(rig.Watch()).Open);
        Assert.Contains("Table", Assert.Single(LoopChecks.AfterRing(rig.With("input/2/on = on").Watch()).Open), StringComparison.Ordinal);
    }

    [Fact]
    public void Noise_needs_a_microphone_that_goes_nowhere_and_a_mute_is_not_enough()
    {
        var rig = new SmallRig().With("input/1/send/mix/1/on = off", "input/2/on = off", "input/2/send/mix/1/tap = post-fader");
        Assert.Empty(LoopChecks.BeforeNoise(rig.Watch()).Open);
        rig.With("input/1/send/mix/1/on = on", "input/1/send/mix/1/tap = post-fader");
        Assert.Contains("unassign it", Assert.Single(LoopChecks.BeforeNoise(rig.Watch()).Open), StringComparison.Ordinal);
        rig.With("input/1/on = off");
        Assert.Contains("as soon as somebody unmutes it", Assert.Single(LoopChecks.BeforeNoise(rig.Watch()).Open), StringComparison.Ordinal);
        rig.With("input/1/send/mix/1/on = off", "input/2/on = on");
        Assert.Contains("Table (input/2) is open at wedges 1 too", Assert.Single(LoopChecks.BeforeNoise(rig.Watch()).Open), StringComparison.Ordinal);
    }
}
