using System.Globalization;

namespace StateWatch.Core.Capturing;

/// <summary>What whoever turns the knobs is told before a loop is measured. Common practice, no source.</summary>
public static class CaptureWords
{
    /// <summary>The caution above everything.</summary>
    public const string Caution = """
        CAUTION: sudden level can injure hearing and destroy loudspeakers. This program reads the desk and nothing else: it hears nothing, sends no tone and stops nothing. It is no safety
        system. Ears, a sound level meter, local codes and licensed practice decide, and whoever is at the desk must be able to mute at once.
        """;

    /// <summary>What stands above a ring-out besides.</summary>
    public const string RingCaution = "Letting a loop ring is for trained hands who know how to do so without harm, and only if noise will not do (--noise).";

    private static readonly string[] Room =
    [
        "An engineer is at the desk, with a hand on the mute.",
        "Stage and front rows are empty; everybody in the room wears ear protection and knows that it gets loud.",
        "In-ears are out of all ears.",
        "Stream, hearing loop and recording are muted.",
        "Limiters are in, on the desk and at the amplifiers.",
    ];

    /// <summary>What must be so in the room before the setup is noted, whichever way it is measured.</summary>
    /// <param name="microphone">The microphone's name.</param>
    public static IReadOnlyList<string> Before(string microphone) =>
    [
        .. Room,
        $"{microphone} stands where it will stand, its preamp as in the show, with a body behind it.",
        "EQ, delays, inserts, gates and compressors on its way are still as in the show: their fingerprint is taken now.",
    ];

    /// <summary>What comes next at the desk, before noise.</summary>
    /// <param name="microphone">The microphone's name.</param>
    /// <param name="feed">The loudspeaker.</param>
    public static IReadOnlyList<string> BeforeNoise(string microphone, string feed) =>
    [
        $"The fader of {feed} all the way down.",
        $"{microphone} unassigned from {feed}, or its send there off: a mute is not enough.",
        $"All other microphones muted at {feed}.",
    ];

    /// <summary>What comes next at the desk, before a ring-out.</summary>
    /// <param name="microphone">The microphone's name.</param>
    /// <param name="feed">The loudspeaker.</param>
    public static IReadOnlyList<string> BeforeRing(string microphone, string feed) =>
    [
        $"{microphone} muted, its fader low but above -inf.",
        "All other microphones muted.",
        $"{microphone} to {feed} alone: other feeds muted, or its sends to them off.",
        "Gate, compressor, automix and inserted dynamics on its way bypassed.",
    ];

    /// <summary>How a round goes.</summary>
    public static IReadOnlyList<string> Round { get; } =
    [
        "Steps of 1 dB up: speak, wait 3 s.",
        "At the first sustained ring mute at once; do not look for the loudest. The gain from before the mute is kept.",
        $"Never more than {RingOut.MostStep:0} dB within {RingOut.Wait.TotalSeconds:0} s.",
    ];

    /// <summary>A gain or level for people: tenths of dB.</summary>
    public static string Level(double level) => double.IsNegativeInfinity(level) ? "-inf" : double.IsFinite(level) ? level.ToString("0.0 'dB'", CultureInfo.InvariantCulture) : "unknown";
}
