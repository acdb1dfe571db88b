namespace StateWatch.Core.Acoustics;

/// <summary>Level arithmetic. Levels are in dB; factors are of voltage or pressure (20 lg), never of power, unless the name says so.</summary>
public static class Decibels
{
    /// <summary>The factor of a level: 20 dB is 10; -inf dB is exactly 0.</summary>
    public static double ToFactor(double level) => double.IsNegativeInfinity(level) ? 0 : Math.Pow(10, level / 20);

    /// <summary>The level of a factor, sign ignored: 10 is 20 dB; 0 is -inf dB.</summary>
    public static double OfFactor(double factor) => 20 * Math.Log10(Math.Abs(factor));

    /// <summary>The level of a power ratio: 10 is 10 dB; 0 is -inf dB.</summary>
    public static double OfPower(double power) => 10 * Math.Log10(power);

    /// <summary>The sum of sources that have nothing to do with each other: powers add. The sum of none is -inf dB.</summary>
    /// <param name="levels">Levels in dB; -inf dB adds nothing; a value that is no number makes the sum none either.</param>
    public static double Sum(params ReadOnlySpan<double> levels)
    {
        var power = 0.0;
        foreach (var level in levels)
            power += double.IsNegativeInfinity(level) ? 0 : Math.Pow(10, level / 10);
        return OfPower(power);
    }

    /// <summary>What is left of a level when a part that adds by power is taken away; -inf dB when nothing is left.</summary>
    /// <param name="total">The whole, in dB.</param>
    /// <param name="part">The part, in dB; not above the whole.</param>
    /// <exception cref="ArgumentOutOfRangeException">The part is above the whole.</exception>
    public static double Difference(double total, double part)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(part, total);
        return total.Equals(part) ? double.NegativeInfinity : OfPower(Math.Pow(10, total / 10) - Math.Pow(10, part / 10));
    }

    /// <summary>The sum of the same signal by several ways of equal delay: factors add with their sign.</summary>
    /// <param name="factors">Signed factors; a negative one is of reversed polarity.</param>
    public static double CoherentSum(params ReadOnlySpan<double> factors)
    {
        var sum = 0.0;
        foreach (var factor in factors)
            sum += factor;
        return OfFactor(sum);
    }
}
