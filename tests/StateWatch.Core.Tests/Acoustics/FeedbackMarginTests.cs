using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// Margins by hand and by handbook. Loop matrices and their radii: textbook linear algebra (Horn and Johnson, Matrix Analysis, chapter 8),
/// worked by hand unless a line says otherwise. Number of open microphones (NOM): 10 lg NOM, Davis and Patronis; Ballou's handbook.
/// </summary>
public class FeedbackMarginTests
{
    [Theory]
    [InlineData(new[] { .5, 0, 0, .5 }, 6.02)]
    [InlineData(new[] { .5, .5, .5, .5 }, 0)]
    [InlineData(new[] { 0, .9, .9, 0 }, 0.92)] // two that hear each other and not themselves: periodic
    [InlineData(new[] { .6, .3, .3, .6 }, 0.92)]
    [InlineData(new[] { 0, 2, .3, 0 }, 2.22)]
    [InlineData(new[] { 0, 2, .5, 0 }, 0)]
    [InlineData(new[] { .5, .5, .5, -.5 }, 0)] // 3.01 dB with these phases, 0 dB with the worst
    [InlineData(new[] { .3, .8, .1, .3 }, 4.69)]
    [InlineData(new[] { .9, .5, 0, .2 }, 0.92)] // one way only
    [InlineData(new[] { .7, .7, .7, .7 }, -2.92)] // magnitudes of a matrix with imaginary entries: 0.09 dB with these phases
    [InlineData(new[] { 0, .5, 0, 0, 0, .5, .9, 0, 0 }, 4.32)] // round by three
    [InlineData(new double[] { 5, 1, 1, 1, 5, 1, 1, -1, 5 }, -16.90)] // a published example of rho(L) = 6 below rho(|L|) = 7
    public void Coherent_margin_of_a_loop_matrix(double[] loops, double margin)
    {
        var size = (int)Math.Sqrt(loops.Length);
        var sut = new FeedbackMargin(size, size);
        for (var i = 0; i < size; i++)
        {
            sut.SetCoupling(i, i, 1);
            for (var j = 0; j < size; j++)
                sut.SetGain(j, i, Math.Abs(loops[i * size + j]), loops[i * size + j] * loops[i * size + j]);
        }

        Assert.Equal(margin, sut.Update().Coherent, 0.005);
    }

    [Fact]
    public void Four_microphones_on_one_loudspeaker_are_12_dB_nearer_than_one()
    {
        Assert.Equal(13.98, Equal(1, 1, 0.2).Coherent, 0.005);
        Assert.Equal(1.94, Equal(4, 1, 0.2).Coherent, 0.005);
    }

    public static TheoryData<int> Open => [.. Enumerable.Range(1, 32)];

    [Theory]
    [MemberData(nameof(Open))]
    public void Equal_open_microphones_cost_what_the_handbook_says(int open)
    {
        var margins = Equal(open, 1, 0.01);
        Assert.Equal(40 - 20 * Math.Log10(open), margins.Coherent, 1e-9);
        Assert.Equal(40 - 10 * Math.Log10(open), margins.Power, 1e-9);
    }

    // 10 lg NOM as printed: 3 / 6 / 9 dB for 2, 4, 8 and 13 dB for 20 microphones (tables of makers and handbooks, rounded).
    [Theory]
    [InlineData(2, 3)]
    [InlineData(4, 6)]
    [InlineData(8, 9)]
    [InlineData(20, 13)]
    public void Printed_tables_of_open_microphones_agree(int open, double cost) =>
        Assert.Equal(cost, Equal(1, 1, 0.01).Power - Equal(open, 1, 0.01).Power, 0.05);

    [Fact]
    public void Two_equal_loudspeakers_cost_3_dB_of_power() => Assert.Equal(-3.01, Equal(1, 2, 0.01).Power - Equal(1, 1, 0.01).Power, 0.005);

    [Fact]
    public void Opposed_ways_to_two_loudspeakers_are_still_a_loop()
    {
        // 0 is the microphone's strip; one output has its polarity turned. Heard alike, the two would cancel: nobody may rely on it.
        var graph = new StateWatch.Core.Routing.GainGraph(3, [(0, 1), (0, 2)], [1, 2]);
        graph.SetGain(0, 0.1);
        graph.SetGain(1, -0.1);
        graph.Update();
        var sut = new FeedbackMargin(1, 2);
        sut.SetCoupling(0, 0, 0.5);
        sut.SetCoupling(0, 1, 0.5);
        sut.SetGains(0, graph.Total(0), graph.Power(0));
        var margins = sut.Update();
        Assert.Equal(20, margins.Coherent, 1e-9);
        Assert.Equal(23.01, margins.Power, 0.005);
    }

    [Fact]
    public void Without_a_loop_the_margin_has_no_end()
    {
        Assert.Equal(new LoopMargins(double.PositiveInfinity, double.PositiveInfinity), new FeedbackMargin(0, 0).Update());
        Assert.Equal(new LoopMargins(double.PositiveInfinity, double.PositiveInfinity), new FeedbackMargin(3, 0).Update());
        var sut = new FeedbackMargin(2, 2);
        sut.SetGain(0, 0, 1, 1);
        sut.SetCoupling(0, 1, 1);
        sut.SetCoupling(1, 0, 1);
        Assert.Equal(double.PositiveInfinity, sut.Update().Power);
        Assert.Null(sut.Heaviest());
        sut.SetGain(1, 1, 1, 1);
        Assert.Equal(new LoopMargins(0, 0), sut.Update());
    }

    [Fact]
    public void An_endless_gain_that_is_heard_has_no_margin_and_one_that_is_not_heard_does_no_harm()
    {
        var sut = new FeedbackMargin(2, 2);
        sut.SetCoupling(0, 0, 0.1);
        sut.SetGain(0, 0, 1, 1);
        sut.SetGain(0, 1, double.PositiveInfinity, double.PositiveInfinity);
        Assert.Equal(20, sut.Update().Coherent, 1e-9);
        sut.SetCoupling(0, 1, 1e-6);
        Assert.Equal(new LoopMargins(double.NegativeInfinity, double.NegativeInfinity), sut.Update());
        Assert.Equal((0, 1), (sut.Heaviest()!.Value.Microphone, sut.Heaviest()!.Value.Feed));
        Assert.Equal(20, sut.Heaviest()!.Value.Without.Coherent, 1e-9);
    }

    [Fact]
    public void The_heaviest_pair_is_the_microphone_that_was_turned_up()
    {
        var sut = Make(8, 2, 0.02);
        sut.SetGain(5, 1, 0.2, 0.04);
        sut.Update();
        var pair = sut.Heaviest()!.Value;
        Assert.Equal((5, 1), (pair.Microphone, pair.Feed));
        // One row of power each: 8 x 4e-4 and 7 x 4e-4 + 0.04; the loop is their sum.
        Assert.Equal(0.04 / (15 * 4e-4 + 0.04), pair.Share, 1e-9);
        Assert.Equal(10 * Math.Log10((15 * 4e-4 + 0.04) / (15 * 4e-4)), pair.WinsBack, 1e-9);
        Assert.Equal(sut.Margins.Power + pair.WinsBack, pair.Without.Power, 1e-9);
    }

    [Fact]
    public void What_the_only_pair_wins_back_has_no_end()
    {
        var pair = Make(1, 1, 0.1).Heaviest()!.Value;
        Assert.Equal(1, pair.Share, 1e-12);
        Assert.Equal(double.PositiveInfinity, pair.WinsBack);
    }

    [Fact]
    public void Effective_number_of_open_microphones()
    {
        var sut = new FeedbackMargin(5, 1);
        Assert.Equal(0, sut.OpenMicrophones(0));
        for (var microphone = 0; microphone < 4; microphone++)
            sut.SetGain(microphone, 0, 0.3, 0.09);
        Assert.Equal(4, sut.OpenMicrophones(0), 1e-12);
        // One 6.02 dB down is a quarter of one.
        sut.SetGain(4, 0, 0.15, 0.0225);
        Assert.Equal(4.25, sut.OpenMicrophones(0), 1e-12);
        sut.SetGain(4, 0, double.PositiveInfinity, double.PositiveInfinity);
        Assert.True(double.IsNaN(sut.OpenMicrophones(0)));
    }

    [Fact]
    public void Changes_are_counted_from_the_approved_state()
    {
        var none = new LoopMargins(double.PositiveInfinity, double.PositiveInfinity);
        Assert.Equal(new LoopMargins(0, 0), none.ChangeFrom(none));
        Assert.Equal(new LoopMargins(-3, -2), new LoopMargins(6, 10).ChangeFrom(new LoopMargins(9, 12)));
        Assert.Equal(new LoopMargins(double.NegativeInfinity, double.NegativeInfinity), new LoopMargins(6, 10).ChangeFrom(none));
    }

    [Theory]
    [InlineData(-1, 0, 1)]
    [InlineData(0, 2, 1)]
    [InlineData(0, 0, -1)]
    [InlineData(0, 0, double.NaN)]
    [InlineData(0, 0, double.PositiveInfinity)]
    public void Couplings_that_cannot_be_are_refused(int microphone, int feed, double factor) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new FeedbackMargin(2, 2).SetCoupling(microphone, feed, factor));

    [Theory]
    [InlineData(2, 0, 1, 1)]
    [InlineData(0, -1, 1, 1)]
    [InlineData(0, 0, -1, 1)]
    [InlineData(0, 0, 1, double.NaN)]
    public void Gains_that_cannot_be_are_refused(int microphone, int feed, double total, double power) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new FeedbackMargin(2, 2).SetGain(microphone, feed, total, power));

    private static LoopMargins Equal(int microphones, int feeds, double loop) => Make(microphones, feeds, loop).Update();

    private static FeedbackMargin Make(int microphones, int feeds, double loop)
    {
        var margin = new FeedbackMargin(microphones, feeds);
        for (var microphone = 0; microphone < microphones; microphone++)
        {
            for (var feed = 0; feed < feeds; feed++)
            {
                margin.SetCoupling(microphone, feed, 1);
                margin.SetGain(microphone, feed, loop, loop * loop);
            }
        }

        return margin;
    }
}
