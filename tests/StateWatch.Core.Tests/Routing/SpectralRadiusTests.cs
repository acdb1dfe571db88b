using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

/// <summary>Spectral radii of magnitudes, by hand (Horn and Johnson, Matrix Analysis, chapter 8); the periodic ones never settle without a shift.</summary>
public class SpectralRadiusTests
{
    [Theory]
    [InlineData(new[] { .5, .5, .5, .5 }, 1.0, 0)]
    [InlineData(new[] { 0, .9, .9, 0 }, 0.9, 0.92)]
    [InlineData(new[] { .6, .3, .3, .6 }, 0.9, 0.92)]
    [InlineData(new[] { 0, 2, .3, 0 }, 0.7746, 2.22)]
    [InlineData(new[] { 0, 2, .5, 0 }, 1.0, 0)]
    [InlineData(new[] { .3, .8, .1, .3 }, 0.5828, 4.69)]
    [InlineData(new[] { .7, .7, .7, .7 }, 1.4, -2.92)]
    [InlineData(new[] { 0, .5, 0, 0, 0, .5, .9, 0, 0 }, 0.6082, 4.32)]
    [InlineData(new double[] { 5, 1, 1, 1, 5, 1, 1, 1, 5 }, 7, -16.90)] // a published example of rho(L) = 6 below rho(|L|) = 7
    [InlineData(new[] { .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2, .2 }, 0.8, 1.94)] // four microphones, one loudspeaker
    public void Radius_and_margin(double[] matrix, double radius, double margin)
    {
        var size = (int)Math.Sqrt(matrix.Length);
        var (least, most) = SpectralRadius.OfConnected(matrix, size, new double[2 * size]);
        Assert.Equal(radius, most, 0.0001);
        Assert.Equal(radius, least, 0.0001);
        Assert.Equal(margin, -Decibels.OfFactor(most), 0.01);
    }

    [Fact]
    public void One_row_is_its_own_radius() => Assert.Equal((0.2, 0.2), SpectralRadius.OfConnected([0.2], 1, new double[2]));

    [Theory]
    [InlineData(0.98, true)]
    [InlineData(1.02, false)]
    public void An_edge_that_matters_is_decided_early(double scale, bool below)
    {
        double[] matrix = [0, 2 * scale, 1, 1, 0, .5, .25, .25, 0];
        var (least, most) = SpectralRadius.OfConnected(matrix, 3, new double[6], edge: SpectralRadiusOf(matrix) / scale);
        Assert.Equal(below, most < SpectralRadiusOf(matrix) / scale);
        Assert.Equal(!below, least >= SpectralRadiusOf(matrix) / scale);
    }

    private static double SpectralRadiusOf(double[] matrix) => SpectralRadius.OfConnected(matrix, 3, new double[6]).Most;
}
