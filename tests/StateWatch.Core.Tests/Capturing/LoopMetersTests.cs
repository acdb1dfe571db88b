using StateWatch.Core.Desks;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>Levels at both ends of a loop, as the desk's meters tell them.</summary>
public class LoopMetersTests
{
    [Fact] // -40 dB behind 30 dB of preamp and 2 dB of trim: -72 dB at the socket.
    public void Input_is_taken_back_to_the_socket()
    {
        var rig = new SmallRig().With("input/1/trim = 2 dB");
        var watch = rig.Watch();
        var sample = rig.With("input/1/signal = -40 dB", "output/stage-3/signal = -30 dB").Read(watch);
        Assert.Null(sample.Fault);
        Assert.Equal((-72, -30), (Math.Round(sample.Input, 1), Math.Round(sample.Output, 1)));
        Assert.Null(watch.Meters.Lacks);
    }

    [Fact] // A socket's own meter knows nothing of the trim.
    public void Meter_of_the_socket_goes_before_that_of_the_strip()
    {
        var rig = new SmallRig(TansyDesk.Desk + "\n  \"socket/stage-{k}/signal\": { at: \"/seed/{k}/glow\", args: [glow] }").With("input/1/trim = 2 dB");
        var watch = rig.Watch();
        Assert.Equal(-80, rig.With("socket/stage-1/signal = -50 dB", "input/1/signal = -10 dB", "output/stage-3/signal = -30 dB").Read(watch).Input, 1);
    }

    [Fact]
    public void Quietest_output_of_several_counts()
    {
        var rig = new SmallRig();
        Assert.Equal(-31, rig.With("input/1/signal = -40 dB", "output/stage-1/signal = -30 dB", "output/stage-2/signal = -31 dB").Read(rig.Watch(loudspeaker: "room")).Output, 1);
    }

    [Theory]
    [InlineData("socket/stage-1/gain = 31 dB")]
    [InlineData("input/1/trim = -1 dB")]
    [InlineData("input/1/source = stage 2")]
    public void Gain_that_moves_makes_the_reading_void(string line)
    {
        var rig = new SmallRig();
        var watch = rig.Watch();
        Assert.Contains("moved", rig.With(line).Read(watch).Fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Meter_that_is_not_answered_makes_the_reading_void()
    {
        var rig = new SmallRig();
        var watch = rig.Watch();
        rig.State.MarkUnseen(rig.Plan.Profile.Find("output/stage-3/signal"), UnseenReason.NoReply);
        Assert.Contains("output/stage-3/signal was not seen", rig.Read(watch).Fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Desk_without_meters_in_dB_says_so()
    {
        Assert.Contains("does not tell the level of input/1", new SmallRig(TansyDesk.Desk.Replace("{ wire: float, table: [[0, -inf], [0.1, -100], [1, 0]], steps: 2001 }", "{ wire: int, switch: [0, 1] }", StringComparison.Ordinal)).Watch().Meters.Lacks, StringComparison.Ordinal);
        var rig = new SmallRig(string.Join('\n', TansyDesk.Desk.Split('\n').Where(line => !line.Contains("output/stage-{k}/signal", StringComparison.Ordinal))));
        Assert.Contains("outputs of wedges 1", rig.Watch().Meters.Lacks, StringComparison.Ordinal);
    }
}
