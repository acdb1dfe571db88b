using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// The same signal twice with a delay: notches at odd multiples of 1/(2 τ), peaks at multiples of 1/τ (lecture notes of a university
/// music department on delays in samples; a sound engineer's article, whose row is 0.5 ms); depths from the gain range 1 ± g (DAFX,
/// second edition, section 2.5.1); other numbers by hand.
/// </summary>
public class CombFilterTests
{
    [Theory]
    [InlineData(0.1, new double[] { 5000, 15000, 25000 }, new double[] { 10000, 20000 })]
    [InlineData(0.5, new double[] { 1000, 3000, 5000, 7000 }, new double[] { 2000, 4000 })]
    [InlineData(1, new double[] { 500, 1500, 2500 }, new double[] { 1000, 2000 })]
    [InlineData(2, new double[] { 250, 750, 1250 }, new double[] { 500, 1000 })]
    [InlineData(5, new double[] { 100, 300, 500 }, new double[] { 200, 400 })]
    [InlineData(10, new double[] { 50, 150, 250 }, new double[] { 100, 200 })]
    [InlineData(6 / 48.0, new double[] { 4000, 12000, 20000 }, new double[] { 8000 })] // six samples at 48 kHz: fs/12, fs/4, 5 fs/12
    public void Notches_and_peaks(double delay, double[] notches, double[] peaks)
    {
        for (var i = 0; i < notches.Length; i++)
            Assert.Equal(notches[i], CombFilter.Notch(delay, i), 1e-6);
        for (var i = 0; i < peaks.Length; i++)
            Assert.Equal(peaks[i], CombFilter.Peak(delay, i), 1e-6);
    }

    [Theory]
    [InlineData(0, 6.02, double.NegativeInfinity)]
    [InlineData(1, 5.53, -19.27)]
    [InlineData(3, 4.65, -10.69)]
    [InlineData(6, 3.53, -6.04)]
    [InlineData(9, 2.64, -3.81)]
    [InlineData(10, 2.39, -3.30)]
    [InlineData(12, 1.95, -2.51)]
    [InlineData(20, 0.83, -0.92)]
    public void Depths(double lower, double peak, double notch)
    {
        var depth = CombFilter.Depth(lower);
        Assert.Equal(peak, depth.Peak, 0.01);
        Assert.Equal(notch, depth.Notch, 0.01);
    }

    [Fact]
    public void Without_a_delay_there_is_no_comb() => Assert.Throws<ArgumentOutOfRangeException>(() => CombFilter.Notch(0, 0));

    [Theory] // 1/(1 - L): by hand; the 6 dB row is a published example (ratio 0.5: sum 2, +6 dB; 1/1.5, -3.5 dB) of an article on closed loops.
    [InlineData(1, 19.27, -5.53)]
    [InlineData(2, 13.74, -5.08)]
    [InlineData(3, 10.69, -4.65)]
    [InlineData(6, 6.04, -3.53)]
    [InlineData(10, 3.30, -2.39)]
    [InlineData(12, 2.51, -1.95)]
    public void A_loop_colours_the_sound_before_it_howls(double margin, double peak, double dip)
    {
        var response = LoopResponse.At(margin);
        Assert.Equal(peak, response.Peak, 0.01);
        Assert.Equal(dip, response.Dip, 0.01);
    }
}
