namespace StateWatch.Core.Routing;

/// <summary>What a stage of a way is.</summary>
public enum StageKind : byte
{
    /// <summary>The preamp's gain at the socket.</summary>
    Gain,

    /// <summary>The strip's digital trim.</summary>
    Trim,

    /// <summary>Reversed polarity.</summary>
    Polarity,

    /// <summary>The strip's mute.</summary>
    Mute,

    /// <summary>A mute group the strip is a member of.</summary>
    MuteGroup,

    /// <summary>The strip's fader.</summary>
    Fader,

    /// <summary>The mute of a DCA the strip is a member of.</summary>
    DcaMute,

    /// <summary>The fader of a DCA the strip is a member of.</summary>
    DcaFader,

    /// <summary>An assign.</summary>
    Assign,

    /// <summary>The switch of a send.</summary>
    Send,

    /// <summary>The level of a send.</summary>
    SendLevel,

    /// <summary>The share of left or right.</summary>
    Pan,

    /// <summary>An effect.</summary>
    Effect,

    /// <summary>A talk key or route.</summary>
    Talk,

    /// <summary>What an output takes its signal from.</summary>
    Patch,

    /// <summary>The mute of an output.</summary>
    OutputMute,

    /// <summary>Something that may close by itself: a gate, a ducker, an automix. Never counted as open or closed.</summary>
    MayClose,
}

/// <summary>One stage of a way through the desk.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Setting">The setting that decides it; -1 when none does.</param>
/// <param name="Level">What it does to the level, in dB; -inf when it stops everything.</param>
public readonly record struct Stage(StageKind Kind, int Setting, double Level)
{
    /// <summary>Whether nothing passes.</summary>
    public bool Stops => double.IsNegativeInfinity(Level);
}

/// <summary>A step of a way: from one strip by one edge to the next, with everything on it.</summary>
/// <param name="Edge">The edge.</param>
/// <param name="From">The node it leaves.</param>
/// <param name="Stages">The strip's stages up to where the edge is taken, then the edge's own.</param>
public sealed record WayStep(int Edge, int From, IReadOnlyList<Stage> Stages);

/// <summary>One way from a source to a terminal.</summary>
/// <param name="Steps">Its steps in order.</param>
/// <param name="Gain">Signed gain of all of it.</param>
/// <param name="Column">The terminal it ends at.</param>
public sealed record Way(IReadOnlyList<WayStep> Steps, double Gain, int Column);
