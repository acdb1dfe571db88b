namespace StateWatch.Core.Acoustics;

/// <summary>
/// The same signal twice, the second time later: at some frequencies the two cancel, at others they add. Notches lie at odd multiples of
/// 1/(2 τ), peaks at multiples of 1/τ (J. O. Smith, Physical Audio Signal Processing, feedforward comb filters).
/// </summary>
public static class CombFilter
{
    /// <summary>The frequency of a notch, in Hz.</summary>
    /// <param name="delay">By how much one is later, in ms, more than 0.</param>
    /// <param name="number">Which notch, from 0.</param>
    public static double Notch(double delay, int number)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(delay);
        return (2 * number + 1) * 1000 / (2 * delay);
    }

    /// <summary>The frequency of a peak above 0 Hz, in Hz.</summary>
    /// <param name="delay">By how much one is later, in ms, more than 0.</param>
    /// <param name="number">Which peak, from 0.</param>
    public static double Peak(double delay, int number)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(delay);
        return (number + 1) * 1000 / delay;
    }

    /// <summary>How far peaks rise and notches fall against one signal alone, in dB.</summary>
    /// <param name="lower">By how much the second is weaker, in dB, not negative; 0 gives a notch of -inf dB.</param>
    public static (double Peak, double Notch) Depth(double lower)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(lower);
        var factor = Decibels.ToFactor(-lower);
        return (Decibels.OfFactor(1 + factor), Decibels.OfFactor(1 - factor));
    }
}
