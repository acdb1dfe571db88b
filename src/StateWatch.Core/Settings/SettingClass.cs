namespace StateWatch.Core.Settings;

/// <summary>The part of the desk a setting belongs to; phases lock, guard or free whole classes.</summary>
public enum SettingClass : byte
{
    /// <summary>Which socket or bus feeds what.</summary>
    Patch,

    /// <summary>Assigns and sends: what goes into which bus.</summary>
    Routing,

    /// <summary>Where a send is taken from, before or after the fader.</summary>
    Taps,

    /// <summary>DCAs, mute groups, stereo links, automix groups.</summary>
    Grouping,

    /// <summary>Processors inserted into a strip.</summary>
    Inserts,

    /// <summary>EQ, dynamics, delay, polarity, limiters.</summary>
    Processing,

    /// <summary>Gain, phantom power, pad.</summary>
    Preamp,

    /// <summary>Faders, send levels, pan.</summary>
    Levels,

    /// <summary>Mutes.</summary>
    Mutes,

    /// <summary>Names and colours.</summary>
    Labels,

    /// <summary>Keys, recall-safes and modes of the surface.</summary>
    Surface,

    /// <summary>Clock, oscillator, show file and other health of the desk.</summary>
    Health,
}

/// <summary>The class words as plans spell them.</summary>
public static class SettingClasses
{
    private static readonly string[] Words =
    [
        "patch", "routing", "taps", "grouping", "inserts", "processing", "preamp", "levels", "mutes", "labels", "surface", "health",
    ];

    /// <summary>All class words in order.</summary>
    public static IReadOnlyList<string> All => Words;

    /// <summary>The word of a class.</summary>
    public static string Word(this SettingClass value) => Words[(int)value];

    /// <summary>The class of a word.</summary>
    public static bool TryParse(string word, out SettingClass value)
    {
        var index = Array.IndexOf(Words, word);
        value = (SettingClass)Math.Max(0, index);
        return index >= 0;
    }
}
