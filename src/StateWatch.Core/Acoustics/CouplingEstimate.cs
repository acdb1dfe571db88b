namespace StateWatch.Core.Acoustics;

/// <summary>What turns a voltage at a desk's output into sound, and how the room keeps it.</summary>
/// <param name="Sensitivity">Level at 1 m for 2.83 V (1 W into 8 Ω), in dB.</param>
/// <param name="Amplifier">Voltage gain of the amplifier, in dB.</param>
/// <param name="CriticalDistance">Where the loudspeaker's direct sound is as loud as the room's, in m; more than 0.</param>
public readonly record struct LoudspeakerChain(double Sensitivity, double Amplifier, double CriticalDistance);

/// <summary>What turns sound into a voltage at a socket.</summary>
/// <param name="Sensitivity">mV per pascal, more than 0.</param>
/// <param name="Pattern">Its directional pattern.</param>
public readonly record struct MicrophoneChain(double Sensitivity, MicrophonePattern Pattern);

/// <summary>
/// How far below an output's signal a microphone's socket hears it, from distances and data sheets. An estimate: ±10 dB at best, so that
/// never more than a warning may rest on it; measure where you can.
/// </summary>
/// <remarks>
/// With a level of 0 dBV at the output, the amplifier's gain A and a loudspeaker of S dB at 1 m for 2.83 V:
/// at 1 m it gives S + A - 20 lg 2.83 dB; at the microphone 20 lg r less (free field, -20 lg r from 1 m; <see cref="AcousticGain"/>) and what the
/// microphone's direction may be credited with (<see cref="MicrophonePattern.Credit"/>: at most 6 dB, none for subs, since patterns open at low
/// frequencies), but never less than the room's own sound, which is as loud as the direct sound at the critical distance Dc and comes
/// from all around, so that no direction helps against it. 94 dB are 1 Pa (20 lg(1 Pa / 20 µPa) = 93.98), so a microphone of m mV per Pa
/// gives L - 94 + 20 lg(m/1000) dBV at L dB. Hence
/// <code>loss = 94 - S - A + 20 lg 2.83 - 20 lg(m/1000) - max(-20 lg r - credit, -20 lg Dc) - 10</code>
/// where the last 10 dB are for peaks of the loop's response that broadband averages hide.
/// Sources: free field and acoustic gain after D. and C. Davis (Sound System Design Reference Manual, chapter 4), critical distance ibid.,
/// chapter 6; patterns after Eargle, The Microphone Book; 2.83 V is 1 W into 8 Ω, common practice of data sheets; the 10 dB are common practice, no source.
/// </remarks>
public static class CouplingEstimate
{
    /// <summary>What is taken off for peaks that broadband averages hide, in dB.</summary>
    public const double Peaks = 10;

    /// <summary>The level of 1 Pa, in dB.</summary>
    public const double Pascal = 94;

    /// <summary>The voltage at which sensitivities of loudspeakers are given.</summary>
    private const double Volts = 2.83;

    /// <summary>The loss in dB: the gain from the microphone's socket to the loudspeaker's output at which the loop would ring by this estimate.</summary>
    /// <param name="loudspeaker">Loudspeaker, amplifier and room.</param>
    /// <param name="microphone">The microphone.</param>
    /// <param name="distance">From loudspeaker to microphone, in m; more than 0.</param>
    /// <param name="angle">Of the loudspeaker off the microphone's front, in degrees.</param>
    /// <param name="lowFrequencies">Whether it is a loudspeaker for low frequencies only, where no direction is credited.</param>
    /// <exception cref="ArgumentOutOfRangeException">A distance or the microphone's sensitivity is not more than 0.</exception>
    public static double Loss(LoudspeakerChain loudspeaker, MicrophoneChain microphone, double distance, double angle, bool lowFrequencies = false)
    {
        if (microphone.Sensitivity <= 0)
            throw new ArgumentOutOfRangeException(nameof(microphone), "a microphone's sensitivity is more than 0 mV per Pa");
        var credit = lowFrequencies ? 0 : microphone.Pattern.Credit(angle);
        var direct = AcousticGain.DistanceChange(1, distance) - credit;
        var reverberant = AcousticGain.DistanceChange(1, loudspeaker.CriticalDistance);
        var atOneMetre = loudspeaker.Sensitivity + loudspeaker.Amplifier - Decibels.OfFactor(Volts);
        return Pascal - atOneMetre - Math.Max(direct, reverberant) - Decibels.OfFactor(microphone.Sensitivity / 1000) - Peaks;
    }
}
