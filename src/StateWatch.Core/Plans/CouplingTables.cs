using StateWatch.Core.Acoustics;
using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>The keys of what microphones hear of loudspeakers.</summary>
public static class CouplingTables
{
    private const string Number = @"([0-9]+\.?[0-9]*|\.[0-9]+)";

    private static readonly KeyInfo Mic = new("mic", TextShape.Filled, "Lectern",
        "The microphone: an input's name, what the names of a line have in common, or a role. Of two lines the one whose name stands for fewer inputs counts.")
    { Required = true };

    private static readonly KeyInfo Feed = new("feed", TextShape.Filled, "wedges 3", "The loudspeaker: a feed whose purpose is room, subs, front-fill, monitor or overflow. Of a feed with several buses that is not stereo each bus is one: wedges 3 is the third, wedges all of them.")
    { Required = true };

    /// <summary>Distances of talker, microphone, loudspeaker and listener.</summary>
    public static KeyTable AcousticGain { get; } = new("acoustic gain", "Distances in m for potential and needed acoustic gain. Advice; an estimate.",
        new KeyInfo("talker-to-mic", Length(), "0.4 m", "From the talker's mouth to the microphone (Ds).") { Required = true },
        new KeyInfo("talker-to-listener", Length(), "18 m", "From the talker to the farthest listener (D0).") { Required = true },
        new KeyInfo("loudspeaker-to-listener", Length(), "14 m", "From the loudspeaker to that listener (D2).") { Required = true },
        new KeyInfo("as-if-at", Length(), "2 m", "How near the bare voice would have to be for that listener (the equivalent acoustic distance).") { Required = true });

    /// <summary>A coupling that somebody measured.</summary>
    public static KeyTable Measured { get; } = new("measured coupling", "How much of a loudspeaker a microphone hears, as somebody measured it. It outweighs an estimate for the same pair, and expires after 90 days. Advice: the desk cannot see what stands in the room.",
        Mic, Feed,
        new KeyInfo("loss", new TextShape($@"^\s*(-\s*(20(\.0*)?|1?[0-9](\.[0-9]*)?)|\+?0*(120(\.0*)?|1[01][0-9](\.[0-9]*)?|[0-9]?[0-9](\.[0-9]*)?))\s*(dB)?\s*$"), "32 dB",
            "How far below the feed's output signal the microphone's socket hears it, in dB, -20 to 120: the gain from socket to output, preamp included, at which the loop would ring.")
        { Required = true },
        new KeyInfo("measured", new TextShape("^[0-9]{4}-[0-9]{2}-[0-9]{2}$"), "2026-11-22", "The day it was measured, where the show is: year-month-day.") { Required = true },
        new KeyInfo("by", TextShape.Filled, "A. Engineer", "Who measured it.") { Required = true },
        new KeyInfo("room", new WordShape("empty", "full"), "empty", "Whether people were in the room."),
        new KeyInfo("setup", new TextShape("^[0-9A-Fa-f]+$"), "7f3a91c2", "Fingerprint of EQ, delay, inserts and dynamics of the loop when it was measured: eight hexadecimal digits. With another one on the desk the reference is stale. Write it in quotes where it has digits only."));

    /// <summary>A coupling that follows from distances and data sheets.</summary>
    public static KeyTable Estimate { get; } = new("estimated coupling", "How much of a loudspeaker a microphone probably hears, from where both stand. It needs the feed's loudspeaker and the input's or role's microphone. Good to ±10 dB: never more than a warning rests on it.",
        Mic, Feed,
        new KeyInfo("distance", Length(), "6 m", "From loudspeaker to microphone.") { Required = true },
        new KeyInfo("angle", new TextShape(@"^\s*0*(180(\.0*)?|(1[0-7][0-9]|[0-9]?[0-9])(\.[0-9]*)?)\s*(deg)?\s*$"), "120", "How far off the microphone's front the loudspeaker is, in degrees: 0 in front, 180 behind. At most 6 dB are credited for it, none at a feed for subs.") { Default = "0" },
        new KeyInfo("acoustic-gain", new TableShape(AcousticGain), "{ talker-to-mic: 0.4 m, talker-to-listener: 18 m, loudspeaker-to-listener: 14 m, as-if-at: 2 m }", "Distances for potential and needed acoustic gain."));

    /// <summary>What a feed's outputs drive.</summary>
    public static KeyTable Loudspeaker { get; } = new("loudspeaker", "Amplifier and loudspeaker behind a feed's outputs, and the room, for estimates.",
        new KeyInfo("sensitivity", new QuantityShape(Unit.Decibel, 60, 140), "98 dB", "Level at 1 m for 2.83 V, from the data sheet, in dB.") { Required = true },
        new KeyInfo("amplifier", new QuantityShape(Unit.Decibel, 0, 80), "32 dB", "Voltage gain from the desk's output to the loudspeaker, in dB, as its knob stands.") { Required = true },
        new KeyInfo("critical-distance", Length(), "5 m", "Where the loudspeaker's direct sound is as loud as the room's. Beyond it nothing gets quieter. Outdoors 500 m.") { Required = true });

    /// <summary>What a microphone makes of sound.</summary>
    public static KeyTable Microphone { get; } = new("microphone", "A microphone, for estimates. On an input line it outweighs the role's.",
        new KeyInfo("sensitivity", new TextShape($@"^\s*\+?{Number}\s*(mV)?\s*$"), "2.5 mV", "mV per Pa at the socket, 0.01 to 1,000: data sheet, or radio receiver as its level stands. -52 dB re 1 V/Pa are 2.5 mV.") { Required = true },
        new KeyInfo("pattern", new WordShape(MicrophonePattern.Words), "cardioid", "Its pattern.") { Default = "omni" });

    private static TextShape Length() => new($@"^\s*\+?{Number}\s*(m|cm)?\s*$");
}
