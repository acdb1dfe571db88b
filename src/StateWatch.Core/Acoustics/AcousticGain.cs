namespace StateWatch.Core.Acoustics;

/// <summary>Distances of a talker, a microphone, a loudspeaker and the farthest listener, all in one unit, all more than 0.</summary>
/// <param name="TalkerToMicrophone">Ds.</param>
/// <param name="TalkerToListener">D0.</param>
/// <param name="MicrophoneToLoudspeaker">D1.</param>
/// <param name="LoudspeakerToListener">D2.</param>
public readonly record struct GainGeometry(double TalkerToMicrophone, double TalkerToListener, double MicrophoneToLoudspeaker, double LoudspeakerToListener);

/// <summary>
/// Potential and needed acoustic gain (D. and C. Davis; the same formulas in Ballou's handbook): a free field, omnidirectional microphone
/// and loudspeaker. What a direction attenuates is simply added. An estimate: never more than a warning rests on it.
/// </summary>
public static class AcousticGain
{
    /// <summary>The feedback stability margin that is kept as a rule: 6 dB.</summary>
    public const double StabilityMargin = 6;

    /// <summary>Change of level from one distance to another in the free field, in dB: -20 lg(to/from).</summary>
    /// <exception cref="ArgumentOutOfRangeException">A distance is not more than 0.</exception>
    public static double DistanceChange(double from, double to)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(from);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(to);
        return -20 * Math.Log10(to / from);
    }

    /// <summary>What open microphones beyond the first cost, in dB: 10 lg NOM.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than one: then there is no loop.</exception>
    public static double OpenMicrophones(double open)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(open, 1);
        return 10 * Math.Log10(open);
    }

    /// <summary>The gain a system can give before feedback, in dB: 20 lg(D1 D0/(Ds D2)) - 10 lg NOM - FSM.</summary>
    /// <param name="geometry">Distances.</param>
    /// <param name="open">Number of open microphones (NOM), 1 or more.</param>
    /// <param name="stabilityMargin">Feedback stability margin (FSM) in dB, 6 as a rule.</param>
    /// <exception cref="ArgumentOutOfRangeException">A distance is not more than 0, or NOM is below 1.</exception>
    public static double Potential(GainGeometry geometry, double open, double stabilityMargin = StabilityMargin) =>
        DistanceChange(geometry.TalkerToListener, geometry.TalkerToMicrophone) + DistanceChange(geometry.MicrophoneToLoudspeaker, geometry.LoudspeakerToListener)
        - OpenMicrophones(open) - stabilityMargin;

    /// <summary>
    /// The gain a system can give where listener and microphone both hear more of the room than of the loudspeaker, in dB:
    /// 20 lg Dct - 20 lg Ds - FSM (Sound System Design Reference Manual, chapter 6).
    /// </summary>
    /// <param name="criticalDistance">Dct: where the talker's direct sound is as loud as the room's; same unit as Ds.</param>
    /// <param name="talkerToMicrophone">Ds.</param>
    /// <param name="stabilityMargin">Feedback stability margin (FSM) in dB, 6 as a rule.</param>
    public static double PotentialIndoors(double criticalDistance, double talkerToMicrophone, double stabilityMargin = StabilityMargin) =>
        DistanceChange(criticalDistance, talkerToMicrophone) - stabilityMargin;

    /// <summary>What a loudspeaker gives a listener over the talker alone, in dB: with less than some decibels a system is not worth switching on.</summary>
    /// <param name="unaided">Level of the talker alone at the listener, in dB.</param>
    /// <param name="loudspeaker">Level of the loudspeaker there, just below feedback, in dB.</param>
    public static double Gained(double unaided, double loudspeaker) => loudspeaker - unaided;

    /// <summary>The gain that listeners need, in dB: 20 lg(D0/EAD).</summary>
    /// <param name="talkerToListener">D0.</param>
    /// <param name="equivalentDistance">EAD: at which distance the talker alone would be heard well enough.</param>
    public static double Needed(double talkerToListener, double equivalentDistance) => DistanceChange(talkerToListener, equivalentDistance);
}
