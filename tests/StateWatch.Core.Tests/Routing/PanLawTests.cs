using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

/// <summary>
/// Pan laws as open-source documentation (a synthesis language's Pan2) and an audio programmers' forum describe them; the -4.5 dB law from
/// memory. Numbers by hand from the formulas.
/// </summary>
public class PanLawTests
{
    [Theory]
    [InlineData(PanLaw.ConstantPower, -3.01, -0.69, -8.34, 0, 3.01)]
    [InlineData(PanLaw.Compromise, -4.52, -1.59, -10.19, -1.51, 1.51)]
    [InlineData(PanLaw.Linear, -6.02, -2.50, -12.04, -3.01, 0)]
    [InlineData(PanLaw.Balance, 0, 0, -6.02, 3.01, 6.02)]
    public void Levels(PanLaw law, double centre, double left, double right, double power, double mono)
    {
        var (l, r) = law.At(0.5);
        Assert.Equal(centre, Decibels.OfFactor(l), 0.01);
        Assert.Equal(centre, Decibels.OfFactor(r), 0.01);
        Assert.Equal(power, Decibels.OfPower(l * l + r * r), 0.01);
        Assert.Equal(mono, Decibels.OfFactor(l + r), 0.01);
        (l, r) = law.At(0.25);
        Assert.Equal(left, Decibels.OfFactor(l), 0.01);
        Assert.Equal(right, Decibels.OfFactor(r), 0.01);
    }

    [Theory]
    [InlineData(PanLaw.ConstantPower)]
    [InlineData(PanLaw.Compromise)]
    [InlineData(PanLaw.Linear)]
    [InlineData(PanLaw.Balance)]
    public void Fully_to_one_side_the_other_is_silent(PanLaw law)
    {
        Assert.Equal((1, 0), law.At(0));
        Assert.Equal((0, 1), law.At(1));
        Assert.Equal((1, 0), law.At(-3));
    }
}
