namespace StateWatch.Core.Acoustics;

/// <summary>What a loop below the point of feedback already does to the sound: 1/(1 - L) rises and falls with the phase of L.</summary>
public static class LoopResponse
{
    /// <summary>Highest and lowest level against the same sound without the loop, in dB; the peak is +inf dB at margin 0.</summary>
    /// <param name="margin">Distance from feedback in dB, not negative; +inf for no loop.</param>
    public static (double Peak, double Dip) At(double margin)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(margin);
        var loop = Decibels.ToFactor(-margin);
        return (-Decibels.OfFactor(1 - loop), -Decibels.OfFactor(1 + loop));
    }
}
