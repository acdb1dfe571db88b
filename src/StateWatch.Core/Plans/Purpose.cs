namespace StateWatch.Core.Plans;

/// <summary>What a feed is for.</summary>
public enum Purpose : byte
{
    /// <summary>The main loudspeakers.</summary>
    Room,

    /// <summary>The subwoofers, fed by a send of their own.</summary>
    Subs,

    /// <summary>Loudspeakers for the front rows.</summary>
    FrontFill,

    /// <summary>Stage monitors (wedges).</summary>
    Monitor,

    /// <summary>In-ear monitors.</summary>
    InEars,

    /// <summary>A stream or broadcast.</summary>
    Stream,

    /// <summary>Another room.</summary>
    Overflow,

    /// <summary>A hearing loop.</summary>
    HearingLoop,

    /// <summary>A recording.</summary>
    Record,

    /// <summary>A group processed in parallel.</summary>
    Parallel,

    /// <summary>The way to an effect.</summary>
    Effects,

    /// <summary>A group without a purpose of its own.</summary>
    Group,
}

/// <summary>The purpose words.</summary>
public static class Purposes
{
    private static readonly string[] Words =
    [
        "room", "subs", "front-fill", "monitor", "in-ears", "stream", "overflow", "hearing-loop", "record", "parallel", "fx", "group",
    ];

    /// <summary>All purpose words.</summary>
    public static IReadOnlyList<string> All => Words;

    /// <summary>What a feed may be for: all but a group without a purpose of its own.</summary>
    public static IReadOnlyList<string> OfFeeds { get; } = Words[..^1];

    /// <summary>The word of a purpose.</summary>
    public static string Word(this Purpose purpose) => Words[(int)purpose];

    /// <summary>The purpose of a word.</summary>
    public static bool TryParse(string? word, out Purpose purpose)
    {
        var index = Array.IndexOf(Words, word);
        purpose = (Purpose)Math.Max(0, index);
        return index >= 0;
    }

    /// <summary>Whether people outside the crew hear it: a private word or the click must never reach it.</summary>
    public static bool IsPublic(this Purpose purpose) =>
        purpose is Purpose.Room or Purpose.Subs or Purpose.FrontFill or Purpose.Stream or Purpose.Overflow or Purpose.HearingLoop or Purpose.Record;

    /// <summary>Whether it is a loudspeaker that open microphones hear. In-ears, streams, recordings and hearing loops are none.</summary>
    public static bool IsLoudspeaker(this Purpose purpose) =>
        purpose is Purpose.Room or Purpose.Subs or Purpose.FrontFill or Purpose.Monitor or Purpose.Overflow;

    /// <summary>Whether it feeds one person's monitoring, which the room fader must not move.</summary>
    public static bool IsMonitoring(this Purpose purpose) => purpose is Purpose.Monitor or Purpose.InEars;
}
