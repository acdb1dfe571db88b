using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

/// <summary>Ways that are equally late add with their sign; others never cancel. One sample at 48 kHz is 1000 / 48000 = 0.0208 ms.</summary>
public class DelayedSumTests
{
    [Theory]
    [InlineData(0, 1, 0, -1, 0)]
    [InlineData(0, 1, 0, 1, 2)]
    [InlineData(0, 1, 0.02, -1, 0)]
    [InlineData(0, 1, 0.0209, -1, 2)]
    [InlineData(3, -0.5, 3, 1, 0.5)]
    [InlineData(1, 0.25, 2, -1, 1.25)]
    public void Two_ways(double delay, double gain, double otherDelay, double otherGain, double left)
    {
        var sum = new DelayedSum();
        sum.Add(delay, gain);
        sum.Add(otherDelay, otherGain);
        Assert.Equal(left, sum.Left(), 1e-12);
        sum.Clear();
        Assert.Equal(0, sum.Left());
    }

    [Fact]
    public void Each_delay_is_a_sum_of_its_own()
    {
        var sum = new DelayedSum();
        foreach (var (delay, gain) in new[] { (5.0, 1.0), (0.0, -1.0), (5.0, -1.0), (0.0, 0.25), (0.01, 0.25) })
            sum.Add(delay, gain);
        Assert.Equal(0.5, sum.Left(), 1e-12);
    }
}
