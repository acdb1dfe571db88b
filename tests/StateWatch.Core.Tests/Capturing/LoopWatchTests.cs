using StateWatch.Core.Desks;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>The desk's gain from a socket to a loudspeaker, followed by reading, in hand-computed sums of dB.</summary>
public class LoopWatchTests
{
    private const double Shut = double.NegativeInfinity;

    [Fact] // 30 dB of preamp, 0 dB of faders, -10 dB of send.
    public void Gain_is_that_from_the_socket_with_the_preamp_in_it()
    {
        var watch = new SmallRig().With("input/1/send/mix/1/tap = post-fader").Watch();
        Assert.Equal(20, watch.Gain, 1);
        Assert.Equal(20, watch.Unmuted, 1);
        Assert.Equal(20, watch.PlannedGain(), 1);
        Assert.Empty(watch.Unseen);
    }

    [Theory]
    [InlineData("input/1/fader = -5 dB", 15)]
    [InlineData("input/1/trim = 2 dB", 22)]
    [InlineData("socket/stage-1/gain = 33 dB", 23)]
    [InlineData("input/1/send/mix/1/level = -15 dB", 15)]
    [InlineData("dca/1/fader = -3 dB", 17)]
    [InlineData("mix/1/fader = 4 dB", 24)]
    public void Every_level_on_the_way_is_followed(string line, double gain)
    {
        var rig = new SmallRig().With("input/1/send/mix/1/tap = post-fader");
        var watch = rig.Watch();
        Assert.Equal(gain, rig.Follow(watch, line).Gain, 1);
        Assert.Contains(rig.Plan.Profile.Find(line.Split(' ')[0]), watch.OnTheWay);
    }

    [Fact] // Straight, panned to the middle by equal power (half of it on each side), and by a mono group that goes whole to both: 10 lg((0.5 + 1) / 0.5) dB.
    public void Ways_of_one_output_add_by_power_which_makes_the_smaller_loss()
    {
        var watch = new SmallRig().With("input/1/assign/group/1 = on", "group/1/assign/main/1 = on").Watch(loudspeaker: "room");
        var alone = new SmallRig().Watch(loudspeaker: "room");
        Assert.Equal(10 * Math.Log10(3), watch.Gain - alone.Gain, 6);
    }

    [Theory]
    [InlineData("input/1/on = off")]
    [InlineData("dca/1/on = off")]
    [InlineData("mix/1/on = off")]
    [InlineData("output/stage-3/on = off")]
    [InlineData("input/1/mute-group/1 = on", "mute-group/1/active = on")]
    public void Every_mute_shuts_it_and_what_it_would_be_stays_known(params string[] lines)
    {
        var rig = new SmallRig().With("input/1/send/mix/1/tap = post-fader");
        var watch = rig.Watch();
        var sample = rig.Follow(watch, lines);
        Assert.Equal(Shut, sample.Gain);
        Assert.Equal(20, sample.Unmuted, 1);
        Assert.Null(sample.Fault);
    }

    [Theory]
    [InlineData("input/1/send/mix/1/on = off")]
    [InlineData("input/1/fader = -inf")]
    [InlineData("output/stage-3/source = none")]
    public void What_is_switched_off_or_down_is_no_mute(string line)
    {
        var rig = new SmallRig().With("input/1/send/mix/1/tap = post-fader");
        Assert.Equal((Shut, Shut), rig.Follow(rig.Watch(), line) is var sample ? (sample.Gain, sample.Unmuted) : default);
    }

    [Fact]
    public void Way_that_is_muted_at_first_is_followed_all_the_same()
    {
        var rig = new SmallRig().With("input/1/send/mix/1/tap = post-fader", "input/1/on = off", "mix/1/on = off");
        var watch = rig.Watch();
        Assert.Equal(Shut, watch.Gain);
        Assert.Equal(20, rig.Follow(watch, "input/1/on = on", "mix/1/on = on").Gain, 1);
    }

    [Fact]
    public void Setting_that_is_not_answered_any_more_is_a_fault_of_the_reading_with_its_path()
    {
        var rig = new SmallRig();
        var watch = rig.Watch();
        rig.State.MarkUnseen(rig.Plan.Profile.Find("mix/1/fader"), UnseenReason.NoReply);
        Assert.Contains("mix/1/fader was not seen", watch.Follow(TimeSpan.Zero, rig.State, ReadEnd.Partial).Fault, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ReadEnd.Silent, "fell silent")]
    [InlineData(ReadEnd.FellSilent, "fell silent")]
    [InlineData(ReadEnd.AnotherDesk, "Another desk")]
    public void Desk_that_is_gone_is_a_fault_of_the_reading(ReadEnd end, string words)
    {
        var rig = new SmallRig();
        Assert.Contains(words, rig.Watch().Follow(TimeSpan.Zero, rig.State, end).Fault, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_not_seen_at_first_is_listed_mutes_too()
    {
        var rig = new SmallRig();
        foreach (var path in (string[])["input/1/on", "mix/1/fader", "input/4/fader"])
            rig.State.MarkUnseen(rig.Plan.Profile.Find(path), UnseenReason.NoReply);
        rig.With("input/1/send/mix/1/tap = post-fader");
        Assert.Equal(["input/1/on", "mix/1/fader"], rig.Watch().Unseen.Select(id => rig.Plan.Profile.Settings[id].Path).Order(StringComparer.Ordinal));
    }

    [Fact] // The signal flow, the setup and what the checks look at: more than the ways, and nothing twice.
    public void Little_is_read_again_and_again()
    {
        var watch = new SmallRig().Watch();
        Assert.True(watch.OnTheWay.Count < watch.Everything.Count / 3, $"{watch.OnTheWay.Count} of {watch.Everything.Count}");
        Assert.Equal(watch.Everything.Count, watch.Everything.Distinct().Count());
        Assert.Subset(watch.Everything.ToHashSet(), watch.OnTheWay.ToHashSet());
    }
}
