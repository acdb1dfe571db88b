using StateWatch.Core.Acoustics;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>One line of couplings: how much of a loudspeaker a microphone hears.</summary>
/// <param name="Mic">An input's name, what the names of a line have in common, or a role.</param>
/// <param name="Feed">A feed, or some of its buses.</param>
/// <param name="At">The line.</param>
public sealed record CouplingLine(ScalarNode Mic, ScalarNode Feed, Origin At)
{
    /// <summary>What somebody measured; null for an estimate.</summary>
    public MeasuredLoss? Measured { get; init; }

    /// <summary>Where both stand; null for what was measured.</summary>
    public CouplingGeometry? Geometry { get; init; }
}

/// <summary>A coupling that somebody measured.</summary>
/// <param name="Loss">How far below the feed's output signal the microphone's socket hears it, in dB, -20 to 120.</param>
/// <param name="Day">The day it was measured.</param>
/// <param name="DayAt">Where that day is written.</param>
/// <param name="By">Who measured it.</param>
/// <param name="Room"><c>empty</c> or <c>full</c>, or null when the line does not say.</param>
/// <param name="Setup">Fingerprint of the loop's setup then, eight hexadecimal digits in lower case; null when the line does not say.</param>
public sealed record MeasuredLoss(double Loss, DateOnly Day, Origin DayAt, string By, string? Room, string? Setup)
{
    /// <summary>How many days a measured reference counts, the day of measuring left out. Common practice, no source: rigs move.</summary>
    public const int Days = 90;

    /// <summary>
    /// Whether the reference no longer counts on a day: more than <see cref="Days"/> days have passed. One that was measured after that day is
    /// stale too: either the plan or the clock is wrong.
    /// </summary>
    public static bool IsStale(DateOnly measured, DateOnly day) => day < measured || day.DayNumber - measured.DayNumber > Days;
}

/// <summary>Where a microphone and a loudspeaker stand.</summary>
/// <param name="Distance">From loudspeaker to microphone (D1), in m, 0.02 to 500.</param>
/// <param name="Angle">How far off the microphone's front the loudspeaker is, in degrees, 0 to 180.</param>
/// <param name="Listening">The other distances for potential and needed acoustic gain, or null.</param>
public sealed record CouplingGeometry(double Distance, double Angle, ListeningDistances? Listening)
{
    /// <summary>
    /// Potential acoustic gain in dB for so many open microphones, by <see cref="AcousticGain.Potential"/> (free field, omnidirectional, 6 dB of
    /// stability margin); null when the line does not give the distances.
    /// </summary>
    /// <param name="open">Open microphones, 1 or more.</param>
    public double? PotentialGain(double open) => Listening is null ? null
        : AcousticGain.Potential(new GainGeometry(Listening.TalkerToMicrophone, Listening.TalkerToListener, Distance, Listening.LoudspeakerToListener), open);

    /// <summary>Needed acoustic gain in dB, by <see cref="AcousticGain.Needed"/>; null when the line does not give the distances.</summary>
    public double? NeededGain => Listening is null ? null : AcousticGain.Needed(Listening.TalkerToListener, Listening.AsIfAt);
}

/// <summary>Distances around a talker and the farthest listener, in m, 0.02 to 500.</summary>
/// <param name="TalkerToMicrophone">Ds.</param>
/// <param name="TalkerToListener">D0.</param>
/// <param name="LoudspeakerToListener">D2.</param>
/// <param name="AsIfAt">The equivalent acoustic distance (EAD).</param>
public sealed record ListeningDistances(double TalkerToMicrophone, double TalkerToListener, double LoudspeakerToListener, double AsIfAt);
