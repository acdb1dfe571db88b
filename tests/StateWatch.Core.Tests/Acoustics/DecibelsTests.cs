using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>Sums and differences of levels: published table of a noise-measurement training sheet, exact values by hand.</summary>
public class DecibelsTests
{
    [Theory]
    [InlineData(0, 3.0, 3.010)]
    [InlineData(1, 2.5, 2.539)]
    [InlineData(2, 2.1, 2.124)]
    [InlineData(3, 1.8, 1.764)]
    [InlineData(4, 1.5, 1.455)]
    [InlineData(5, 1.2, 1.193)]
    [InlineData(6, 1.0, 0.973)]
    [InlineData(7, 0.8, 0.790)]
    [InlineData(8, 0.6, 0.639)]
    [InlineData(9, 0.5, 0.515)]
    [InlineData(10, 0.4, 0.414)]
    [InlineData(11, 0.3, 0.332)]
    [InlineData(12, 0.3, 0.266)]
    [InlineData(13, 0.2, 0.212)]
    [InlineData(14, 0.2, 0.170)]
    [InlineData(15, 0.1, 0.135)]
    public void Adding_a_weaker_source(double difference, double published, double exact)
    {
        var added = Decibels.Sum(80, 80 - difference) - 80;
        Assert.Equal(exact, added, 0.0006);
        Assert.Equal(published, added, 0.051);
    }

    [Theory]
    [InlineData(1, 6.9, 6.868)]
    [InlineData(2, 4.3, 4.329)]
    [InlineData(3, 3.0, 3.021)]
    [InlineData(4, 2.2, 2.205)]
    [InlineData(5, 1.7, 1.651)]
    [InlineData(6, 1.3, 1.256)]
    [InlineData(7, 1.0, 0.967)]
    [InlineData(8, 0.7, 0.749)]
    [InlineData(9, 0.6, 0.584)]
    [InlineData(10, 0.5, 0.458)]
    [InlineData(11, 0.4, 0.359)]
    [InlineData(12, 0.3, 0.283)]
    [InlineData(13, 0.2, 0.223)]
    [InlineData(14, 0.2, 0.176)]
    [InlineData(15, 0.1, 0.140)]
    public void Taking_a_part_away(double difference, double published, double exact)
    {
        var taken = 80 - Decibels.Difference(80, 80 - difference);
        Assert.Equal(exact, taken, 0.0006);
        Assert.Equal(published, taken, 0.051);
    }

    [Theory]
    [InlineData(new double[] { 84, 79 }, 85.19)] // training sheet: 85.2
    [InlineData(new double[] { 65, 65 }, 68.01)] // an acoustics consultant's page: 68
    [InlineData(new double[] { 88, 88 }, 91.01)] // another's: 91
    [InlineData(new double[] { 75, 80, 85 }, 86.51)] // by hand
    [InlineData(new double[] { -20, -20, -20, -20 }, -13.98)] // by hand
    public void Worked_sums(double[] levels, double sum) => Assert.Equal(sum, Decibels.Sum(levels), 0.01);

    [Fact]
    public void Silence_adds_nothing_and_nothing_is_silence()
    {
        Assert.Equal(double.NegativeInfinity, Decibels.Sum());
        Assert.Equal(-12.0, Decibels.Sum(-12, double.NegativeInfinity), 1e-12);
        Assert.Equal(double.NegativeInfinity, Decibels.Sum(double.NegativeInfinity, double.NegativeInfinity));
        Assert.True(double.IsNaN(Decibels.Sum(-12, double.NaN)));
        Assert.Equal(0.0, Decibels.ToFactor(double.NegativeInfinity));
        Assert.Equal(double.NegativeInfinity, Decibels.OfFactor(0));
    }

    [Fact] // Two equal in phase +6.02 dB, opposed -inf (by hand).
    public void The_same_signal_twice_adds_by_voltage()
    {
        Assert.Equal(6.02, Decibels.CoherentSum(1, 1), 0.01);
        Assert.Equal(double.NegativeInfinity, Decibels.CoherentSum(1, -1));
    }

    [Theory] // A chart of decibels and ratios: voltage, power.
    [InlineData(0.1, 1.012, 1.023)]
    [InlineData(1, 1.122, 1.259)]
    [InlineData(3, 1.413, 1.995)]
    [InlineData(6, 1.995, 3.981)]
    [InlineData(10, 3.162, 10)]
    [InlineData(20, 10, 100)]
    public void Ratios(double level, double voltage, double power)
    {
        Assert.Equal(voltage, Decibels.ToFactor(level), 0.0006);
        Assert.Equal(level, Decibels.OfFactor(voltage), 0.005);
        Assert.Equal(level, Decibels.OfPower(power), 0.005);
    }
}
