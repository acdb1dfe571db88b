using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// First-order patterns: formula and energy figures as in Eargle, The Microphone Book, pages 103-104 (table 6-1, after Olson 1972);
/// coefficients from a microphone dictionary; angles and arcs also in HyperPhysics, "Directional microphones". Values by hand from the
/// formula, at 0.01 dB or as printed.
/// </summary>
public class MicrophonePatternTests
{
    private const double Never = double.NegativeInfinity;

    [Theory]
    [InlineData(1, 0, 0, 0, 0, 0, 0)]
    [InlineData(0.70, -1.41, -3.10, -4.47, -5.55, -6.23, -7.96)]
    [InlineData(0.50, -2.50, -6.02, -9.66, -13.42, -16.69, Never)]
    [InlineData(0.37, -3.29, -8.64, -16.22, -41.3, -22.44, -11.70)]
    [InlineData(0.25, -4.08, -12.04, -43.7, -14.89, -11.05, -6.02)]
    [InlineData(0, -6.02, Never, -9.32, -4.83, -3.01, 0)]
    public void Levels_around(double omni, double at60, double at90, double at110, double at125, double at135, double at180)
    {
        var pattern = new MicrophonePattern(omni);
        foreach (var (angle, level) in new[] { (0, 0), (60, at60), (90, at90), (110, at110), (125, at125), (135, at135), (180, at180) })
        {
            // Close to a null the printed figure has one decimal.
            Assert.Equal(level, pattern.At(angle), level < -40 ? 0.06 : 0.01);
        }
    }

    [Theory]
    [InlineData(1, 1, 1, 0, 1)]
    [InlineData(0.70, 0.520, 1.923, 2.84, 1.387)]
    [InlineData(0.50, 0.3333, 3, 4.77, 1.732)]
    [InlineData(0.37, 0.2692, 3.715, 5.70, 1.927)]
    [InlineData(0.25, 0.25, 4, 6.02, 2)]
    [InlineData(0, 0.3333, 3, 4.77, 1.732)]
    public void Energy(double omni, double efficiency, double factor, double index, double distance)
    {
        var pattern = new MicrophonePattern(omni);
        Assert.Equal(efficiency, pattern.RandomEnergyEfficiency, 0.0001);
        Assert.Equal(factor, pattern.DirectivityFactor, 0.001);
        Assert.Equal(index, pattern.DirectivityIndex, 0.01);
        Assert.Equal(distance, pattern.DistanceFactor, 0.001);
    }

    [Theory] // Eargle, table 6-1: random energy efficiency, distance factor squared, directivity index as printed.
    [InlineData(1, 1, 0)]
    [InlineData(0.5, 0.33, 4.8)]
    [InlineData(0.25, 0.25, 6.0)]
    [InlineData(0, 0.33, 4.8)]
    public void Energy_as_printed(double omni, double efficiency, double index)
    {
        Assert.Equal(efficiency, new MicrophonePattern(omni).RandomEnergyEfficiency, 0.005);
        Assert.Equal(index, new MicrophonePattern(omni).DirectivityIndex, 0.05);
    }

    [Theory]
    [InlineData(0.70, null, 177.3, 263.6)]
    [InlineData(0.50, 180.0, 131.1, 180.0)]
    [InlineData(0.37, 126.0, 115.3, 156.2)]
    [InlineData(0.25, 109.5, 104.9, 141.1)]
    [InlineData(0, 90.0, 90.0, 120.0)]
    public void Nulls_and_arcs(double omni, double? silent, double arc3, double arc6)
    {
        var pattern = new MicrophonePattern(omni);
        Assert.Equal(silent is null, pattern.Null is null);
        Assert.Equal(silent ?? 0, pattern.Null ?? 0, 0.1);
        // The tables take 3 and 6 dB as half power and half voltage.
        Assert.Equal(arc3, pattern.Arc(10 * Math.Log10(2)), 0.1);
        Assert.Equal(arc6, pattern.Arc(20 * Math.Log10(2)), 0.1);
    }

    [Theory] // HyperPhysics: -3 dB arcs 131, 115, 105, 90 and -6 dB arcs 180, 156, 141, 120 degrees.
    [InlineData(0.5, 131, 180)]
    [InlineData(0.37, 115, 156)]
    [InlineData(0.25, 105, 141)]
    [InlineData(0, 90, 120)]
    public void Arcs_as_printed(double omni, double arc3, double arc6)
    {
        Assert.Equal(arc3, new MicrophonePattern(omni).Arc(3.01), 0.5);
        Assert.Equal(arc6, new MicrophonePattern(omni).Arc(6.02), 0.5);
    }

    [Fact]
    public void An_omnidirectional_microphone_has_no_arc() => Assert.Equal(360, new MicrophonePattern(1).Arc(3));

    [Fact] // Sound System Design Reference Manual: designers count on 4 to 6 dB only.
    public void No_direction_is_credited_with_more_than_six_decibels()
    {
        Assert.Equal(6, new MicrophonePattern(0.5).Credit(180));
        Assert.Equal(6, new MicrophonePattern(0.25).Credit(109.5));
        Assert.Equal(2.5, new MicrophonePattern(0.5).Credit(60), 0.01);
        Assert.Equal(0, new MicrophonePattern(1).Credit(180));
    }
}
