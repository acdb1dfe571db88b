using System.Numerics;
using MathNet.Numerics.LinearAlgebra;
using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// Margins of random stages against the eigenvalues of the whole loop matrix by MathNet.Numerics, on the larger side; and what holds of
/// every matrix of magnitudes (Horn and Johnson, Matrix Analysis, chapter 8).
/// </summary>
public class FeedbackMarginOracleTests
{
    [Theory]
    [InlineData(1, 1, 1, 300)]
    [InlineData(4, 3, 0.5, 2000)]
    [InlineData(3, 7, 0.3, 2000)]
    [InlineData(12, 8, 0.2, 800)]
    [InlineData(40, 16, 0.1, 40)]
    public void Margins_are_those_of_the_largest_eigenvalue(int microphones, int feeds, double density, int count)
    {
        var random = new Random(TestSeed.Value + microphones);
        var compared = 0;
        for (var number = 0; number < count; number++)
        {
            var stage = new RandomStage(random, microphones, feeds, density);
            var margins = stage.Build().Update();
            compared += Near(stage.Coupling * stage.Total, 20, margins.Coherent) ? 1 : 0;
            Near(stage.Coupling.PointwiseMultiply(stage.Coupling) * stage.Power, 10, margins.Power);
        }

        Assert.True(compared > count / 4, $"{compared} of {count} compared");
    }

    // Microphones by microphones: from each, by the feeds, to each. False where a dense solution has too few digits to compare to the last.
    private static bool Near(Matrix<double> loop, double perDecade, double margin)
    {
        var radius = loop.Evd().EigenValues.Max(Complex.Abs);
        var norm = loop.FrobeniusNorm();
        var got = Math.Pow(10, -margin / perDecade);
        // Eigenvalues far below the norm mean ways that lead nowhere: of k in a row a dense solution makes the k-th root of its last digit.
        var exact = radius > 0.03 * norm;
        var tolerance = exact ? 1e-9 * radius : norm * Math.Pow(1e-15, 1.0 / loop.RowCount);
        if (!(Math.Abs(radius - got) <= tolerance))
            Assert.Fail($"{got} instead of {radius} (within {tolerance}) of norm {norm}");
        return exact && radius > 0;
    }

    [Fact]
    public void A_margin_moves_by_as_many_decibels_as_all_gains()
    {
        var random = new Random(TestSeed.Value + 1);
        for (var number = 0; number < 500; number++)
        {
            var stage = new RandomStage(random, 6, 4, 0.5);
            var before = stage.Build().Update();
            // Far beyond what a desk can do: small loops must settle like large ones.
            var change = random.NextDouble() * 240 - 120;
            stage.Total *= Decibels.ToFactor(change);
            stage.Power *= Decibels.ToFactor(2 * change);
            var after = stage.Build().Update();
            if (double.IsInfinity(before.Power))
                Assert.Equal(before, after);
            else
                Assert.Equal(-change, after.ChangeFrom(before).Power, 1e-9);
            Assert.Equal(double.IsInfinity(before.Coherent) ? 0 : -change, after.ChangeFrom(before).Coherent, 1e-9);
        }
    }

    [Fact]
    public void Closing_a_way_never_lowers_a_margin()
    {
        var random = new Random(TestSeed.Value + 2);
        for (var number = 0; number < 500; number++)
        {
            var stage = new RandomStage(random, 6, 4, 0.6).Build();
            var before = stage.Update();
            var (microphone, feed) = (random.Next(6), random.Next(4));
            var without = stage.Without(microphone, feed);
            Assert.True(without.Coherent >= before.Coherent - 1e-9 && without.Power >= before.Power - 1e-9, $"{before} -> {without}");
            Assert.Equal(before, stage.Update());
        }
    }

    [Fact]
    public void The_share_of_the_heaviest_pair_is_the_slope_of_the_margin()
    {
        var random = new Random(TestSeed.Value + 3);
        var compared = 0;
        for (var number = 0; number < 300; number++)
        {
            var stage = new RandomStage(random, 5, 3, 0.7);
            var margin = stage.Build();
            if (margin.Heaviest() is not { } pair)
                continue;
            compared++;
            var before = margin.Margins.Power;
            var more = stage.Power[pair.Feed, pair.Microphone] * Math.Pow(10, 0.0001);
            margin.SetGain(pair.Microphone, pair.Feed, stage.Total[pair.Feed, pair.Microphone], more);
            Assert.Equal(pair.Share, (before - margin.Update().Power) / 0.001, 1e-3);
        }

        Assert.True(compared > 100);
    }

    [Theory]
    [InlineData(0, 5)]
    [InlineData(1, 5)]
    [InlineData(8, 5)]
    [InlineData(15, 5)]
    public void Two_loops_that_hardly_hear_each_other_settle(int apart, int feeds)
    {
        // Nearly the same gain each: plain iteration would take some 10^apart steps. Two by two: (a + d)/2 + sqrt(((a - d)/2)^2 + bc).
        var coupling = Math.Pow(10, -apart);
        var sut = new FeedbackMargin(feeds, feeds);
        for (var i = 0; i < feeds; i++)
            sut.SetCoupling(i, i, 1);
        sut.SetGain(0, 0, 0.5, 0.25);
        sut.SetGain(1, 1, 0.5 - coupling / 3, 0.25);
        sut.SetGain(0, 1, coupling / 2, 0);
        sut.SetGain(1, 0, coupling / 5, 0);
        var wanted = 0.5 - coupling / 6 + coupling * Math.Sqrt(1.0 / 36 + 0.1);
        Assert.Equal(wanted, Math.Pow(10, -sut.Update().Coherent / 20), 1e-9);
    }
}
