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

    private static readonly string[] Room =
    [
        "An engineer is at the desk, with a hand on the mute.",
        "Stage and front rows are empty; everybody in the room wears ear protection and knows that it gets loud.",
        "In-ears are out of all ears.",
        "Stream, hearing loop and recording are muted.",
        "Limiters are in, on the desk and at the amplifiers.",
    ];

    /// <summary>What must be so before noise.</summary>
    /// <param name="microphone">The microphone's name.</param>
    /// <param name="feed">The loudspeaker.</param>
    public static IReadOnlyList<string> NoiseSteps(string microphone, string feed) =>
    [
        .. Room,
        $"{microphone} is unassigned from {feed}: a mute is not enough. All other microphones are muted at {feed}.",
        $"{microphone} stands where it will stand, its preamp as in the show, with a body behind it.",
        $"The fader of {feed} is down before noise is switched on, and pink noise will go to {feed} alone, slowly up from there, no louder than needed.",
    ];

    /// <summary>What must be so before a ring-out.</summary>
    /// <param name="microphone">The microphone's name.</param>
    /// <param name="feed">The loudspeaker.</param>
    public static IReadOnlyList<string> RingSteps(string microphone, string feed) =>
    [
        "Noise is the quieter way and comes first; letting a loop ring is for trained hands who know how to do so without harm.",
        .. Room,
        $"All other microphones are muted, and {microphone} goes to {feed} alone.",
        $"{microphone} stands where it will stand, with a body behind it.",
        "Gates, compressors, automix and inserted dynamics on its way will be bypassed, but not before the setup of the show is noted.",
        $"{microphone} is muted until a round begins. Each of {RingOut.Wanted} rounds begins low, the first one {RingOut.StartBelow:0} dB below the show.",
        "Then steps of 1 dB: speak, wait 3 s. At the first sustained ring mute at once: the gain from before the mute is kept.",
    ];

    /// <summary>A gain or level for people: tenths of dB.</summary>
    public static string Level(double level) => double.IsNegativeInfinity(level) ? "-inf" : double.IsFinite(level) ? level.ToString("0.0 'dB'", CultureInfo.InvariantCulture) : "unknown";
}
