namespace StateWatch.Core.Acoustics;

/// <summary>
/// A first-order microphone: p(θ) = a + (1 - a) cos θ (Eargle, The Microphone Book). Real microphones follow it near a null for some
/// frequencies only, so what is credited against feedback is limited: see <see cref="Credit"/>.
/// </summary>
/// <param name="Omni">The part a that hears all around: 1 omnidirectional, 0.5 cardioid, 0 figure-8.</param>
public readonly record struct MicrophonePattern(double Omni)
{
    /// <summary>The most that a direction is credited with, in dB: designers count on 4 to 6 dB.</summary>
    public const double MostCredit = 6;

    private static readonly (string Word, MicrophonePattern Pattern)[] Named =
    [
        ("omni", new(1)), ("subcardioid", new(0.7)), ("cardioid", new(0.5)), ("supercardioid", new(0.37)), ("hypercardioid", new(0.25)), ("figure-8", new(0)),
    ];

    /// <summary>The patterns that data sheets name, from omni to figure-8.</summary>
    public static IReadOnlyList<string> Words { get; } = [.. Named.Select(item => item.Word)];

    /// <summary>The pattern of a word; its part a as handbooks round it (1, 0.7, 0.5, 0.37, 0.25, 0).</summary>
    public static bool TryParse(string word, out MicrophonePattern pattern)
    {
        pattern = Array.Find(Named, item => item.Word == word).Pattern;
        return Words.Contains(word);
    }

    /// <summary>Level at an angle against the front, in dB; -inf in a null.</summary>
    /// <param name="degrees">Angle from the front.</param>
    public double At(double degrees)
    {
        var factor = Omni + (1 - Omni) * Math.Cos(double.DegreesToRadians(degrees));
        // A null that is off by the last bit of a cosine is still a null.
        return Math.Abs(factor) < 1e-12 ? double.NegativeInfinity : Decibels.OfFactor(factor);
    }

    /// <summary>What a direction may be credited with against feedback, in dB, 0 to <see cref="MostCredit"/>.</summary>
    public double Credit(double degrees) => Math.Clamp(-At(degrees), 0, MostCredit);

    /// <summary>Sound from all around against the same from the front: a² + (1 - a)²/3.</summary>
    public double RandomEnergyEfficiency => Omni * Omni + (1 - Omni) * (1 - Omni) / 3;

    /// <summary>Directivity factor Q.</summary>
    public double DirectivityFactor => 1 / RandomEnergyEfficiency;

    /// <summary>Directivity index in dB.</summary>
    public double DirectivityIndex => Decibels.OfPower(DirectivityFactor);

    /// <summary>How many times farther than an omnidirectional one it may stand for the same room sound.</summary>
    public double DistanceFactor => Math.Sqrt(DirectivityFactor);

    /// <summary>The angle of the null in degrees, or null when there is none.</summary>
    public double? Null => Omni > 0.5 ? null : double.RadiansToDegrees(Math.Acos(-Omni / (1 - Omni)));

    /// <summary>The whole angle within which the level is no more than so many dB below the front, in degrees; 360 when it never falls so far before the back.</summary>
    /// <param name="down">dB, more than 0.</param>
    public double Arc(double down)
    {
        var cosine = (Decibels.ToFactor(-down) - Omni) / (1 - Omni);
        return cosine is >= -1 and <= 1 ? 2 * double.RadiansToDegrees(Math.Acos(cosine)) : 360;
    }
}
