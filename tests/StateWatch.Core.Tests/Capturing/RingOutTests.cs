using StateWatch.Core.Capturing;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>Two rounds of ringing out, in virtual time, in rooms whose loss is known.</summary>
public class RingOutTests
{
    private const double Shut = double.NegativeInfinity;

    [Theory]
    [InlineData(32, 30, 1)]
    [InlineData(32.4, 30, 1)]
    [InlineData(17.95, 35, 0.5)]
    [InlineData(-3.5, 0, 1)]
    [InlineData(61.25, 58, 0.75)]
    public void Known_loss_of_a_room_is_found_within_one_step(double loss, double show, double step)
    {
        var ring = new RingOut(show);
        var room = new LoudRoom(ring, loss) { Step = step };
        var begin = Math.Min(ring.Limit, loss - 5.3);
        Assert.Equal(RingOutEvent.Kept, room.Round(begin));
        Assert.Equal(RingOutEvent.Captured, room.Round(ring.Limit - 0.37));
        Assert.Equal([RingOutEvent.Began, RingOutEvent.Muted, RingOutEvent.Kept, RingOutEvent.Began, RingOutEvent.Muted, RingOutEvent.Captured], room.Told);
        Assert.InRange(ring.Loss!.Value, loss - 1e-9, loss + step);
        Assert.True(ring.HasEnded);
        Assert.Null(ring.Why);
    }

    [Fact]
    public void First_round_begins_20_dB_below_the_show_and_the_second_6_dB_below_the_first_ring()
    {
        var ring = new RingOut(showGain: 34);
        Assert.Equal(14, ring.Limit);
        var room = new LoudRoom(ring, 20);
        room.Round(14);
        Assert.Equal([20], ring.Rounds);
        Assert.Equal(14, ring.Limit);
    }

    [Theory] // A planned way that is shut, or none.
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void Unknown_gain_of_the_show_counts_as_0_dB(double show) => Assert.Equal(-20, new RingOut(show).Limit);

    [Fact]
    public void Worse_of_two_rounds_counts()
    {
        var ring = new RingOut(40);
        new LoudRoom(ring, 24).Round(19);
        new LoudRoom(ring, 22.5).Round(17.5);
        Assert.Equal(22.5, ring.Loss);
    }

    [Theory]
    [InlineData(2.0, false)]
    [InlineData(2.5, true)]
    [InlineData(-2.5, true)]
    public void Rounds_more_than_2_dB_apart_are_discarded(double apart, bool discarded)
    {
        var ring = new RingOut(40);
        new LoudRoom(ring, 24).Round(19);
        var told = new LoudRoom(ring, 24 + apart).Round(15 + apart);
        Assert.Equal(discarded ? RingOutEvent.Discarded : RingOutEvent.Captured, told);
        Assert.Equal(discarded, ring.Loss is null);
        Assert.Equal(discarded, ring.Why?.Contains("dB apart", StringComparison.Ordinal) ?? false);
    }

    [Fact]
    public void Round_that_opens_too_loud_does_not_begin_and_is_told_once()
    {
        var ring = new RingOut(30);
        var room = new LoudRoom(ring, 50);
        room.Read(Shut);
        Assert.Equal(RingOutEvent.TooLoud, room.Read(10.2));
        Assert.Equal(RingOutEvent.None, room.Read(10.2));
        room.Read(Shut);
        Assert.Equal(RingOutEvent.TooLoud, room.Read(12));
        Assert.Equal(RingOutEvent.Began, room.Read(10));
    }

    [Fact]
    public void Second_round_does_not_begin_before_6_dB_are_taken_back()
    {
        var ring = new RingOut(30);
        var room = new LoudRoom(ring, 12);
        room.Round(8);
        Assert.Equal(RingOutEvent.TooLoud, room.Read(12));
        Assert.Equal(RingOutEvent.TooLoud, ReadAfterMute(room, 6.5));
        Assert.Equal(RingOutEvent.Began, ReadAfterMute(room, 6));
    }

    [Fact]
    public void Rise_in_the_same_reading_as_the_mute_makes_the_round_void()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Void, room.Read(Shut, unmuted: 6));
        Void(ring, "within one reading");
    }

    [Fact]
    public void Fader_that_goes_down_with_the_mute_does_not_harm()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Muted, room.Read(Shut, unmuted: -40));
        Assert.Equal(5, ring.Held);
        Assert.Equal(RingOutEvent.Kept, ring.Answer(true));
    }

    [Fact]
    public void Fader_brought_down_in_place_of_the_mute_ends_the_round_too()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Moved, room.Read(4));
        Assert.Equal(RingOutEvent.Muted, room.Read(-20));
        Assert.Equal(4, ring.Held);
    }

    [Fact]
    public void Step_of_more_than_3_dB_makes_the_round_void()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Void, room.Read(8.2));
        Void(ring, "rose by 3.2 dB");
    }

    [Fact] // Many small moves are one step to who has to listen.
    public void Ramp_of_more_than_3_dB_within_3_s_makes_the_round_void_and_is_warned_of_before()
    {
        var (ring, room) = Begun();
        for (var gain = 5.0; !ring.HasEnded; gain += 0.2)
            room.Read(gain);
        Assert.Equal([RingOutEvent.Began, RingOutEvent.TooFast, RingOutEvent.Void], room.Told);
        Void(ring, "within 3 s");
    }

    [Fact]
    public void Slow_ramp_of_1_dB_in_3_s_is_followed()
    {
        var (ring, room) = Begun();
        for (var reading = 0; reading < 300; reading++)
            Assert.Equal(RingOutEvent.Moved, room.Read(5 + (reading + 1) / 30.0));
        Assert.Equal(15, ring.Held, 9);
    }

    [Fact]
    public void Setting_that_was_not_seen_makes_the_round_void_with_its_words()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Void, room.Read(5, fault: "input/3/fader was not seen, and the gain depends on it."));
        Void(ring, "input/3/fader");
    }

    [Fact]
    public void Time_without_a_reading_makes_the_round_void()
    {
        var (ring, room) = Begun();
        room.Pause(TimeSpan.FromSeconds(2.1));
        Assert.Equal(RingOutEvent.Void, room.Read(5));
        Void(ring, "no reading for 2.2 s");
    }

    [Fact]
    public void Time_without_a_reading_between_rounds_does_not_harm()
    {
        var (ring, room) = Begun();
        room.Read(Shut, 5);
        ring.Answer(true);
        room.Pause(TimeSpan.FromMinutes(10));
        Assert.Equal(RingOutEvent.None, room.Read(Shut));
        Assert.Equal(RingOutEvent.Began, room.Read(-2));
    }

    [Fact]
    public void Mute_without_a_ring_makes_the_round_void()
    {
        var (ring, room) = Begun();
        room.Read(Shut, 5);
        Assert.Equal(RingOutEvent.Void, ring.Answer(rang: false));
        Void(ring, "without a ring");
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Circle_of_buses_makes_the_round_void(double gain)
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.Void, room.Read(gain));
        Void(ring, "circle");
    }

    [Fact]
    public void Nothing_is_taken_after_the_end_and_no_answer_without_a_question()
    {
        var (ring, room) = Begun();
        Assert.Equal(RingOutEvent.None, ring.Answer(true));
        room.Read(30);
        Assert.Equal(RingOutEvent.None, room.Read(Shut));
        Assert.Equal(RingOutEvent.None, ring.Answer(true));
        Assert.Empty(ring.Rounds);
    }

    private static (RingOut Ring, LoudRoom Room) Begun()
    {
        var ring = new RingOut(25);
        var room = new LoudRoom(ring, 99);
        room.Read(Shut);
        Assert.Equal(RingOutEvent.Began, room.Read(5));
        room.Hold(5, TimeSpan.FromSeconds(4));
        return (ring, room);
    }

    private static RingOutEvent ReadAfterMute(LoudRoom room, double gain)
    {
        room.Read(Shut);
        return room.Read(gain);
    }

    private static void Void(RingOut ring, string words)
    {
        Assert.True(ring.HasEnded);
        Assert.Null(ring.Loss);
        Assert.Contains(words, ring.Why, StringComparison.Ordinal);
    }
}
