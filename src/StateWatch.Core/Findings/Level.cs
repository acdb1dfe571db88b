using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>What there is to be told of a finding.</summary>
public enum LevelKind : byte
{
    /// <summary>Nothing; to whom it was told otherwise: cleared.</summary>
    None,

    /// <summary>Off plan, and nobody has said that they know.</summary>
    Raised,

    /// <summary>Off plan, and somebody knows.</summary>
    Acknowledged,

    /// <summary>Off plan, and put aside: shelved, expected, or out of service.</summary>
    Held,

    /// <summary>It comes and goes; it is told that it does, not each time.</summary>
    Unstable,

    /// <summary>On plan again, and nobody has said that they knew (latching checks only).</summary>
    Lapsed,
}

/// <summary>What is wanted to be told of a finding, or was told to one sink.</summary>
/// <param name="Kind">What.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Episode">The episode; 0 before the first.</param>
/// <param name="Transition">Number of the change that led here, rising over all episodes; 0 before the first.</param>
public readonly record struct Level(LevelKind Kind, Severity Severity, int Episode, int Transition)
{
    /// <summary>Whether whoever was told this waits for it to be cleared.</summary>
    public bool IsOpen => Kind != LevelKind.None;

    /// <summary>Whether it is worth telling somebody who was told nothing: what is held or cleared is not.</summary>
    public bool IsNews => Kind is not (LevelKind.None or LevelKind.Held);

    /// <summary>Whether it says the same, whatever the number of the change.</summary>
    internal bool Says(Level other) => Kind == other.Kind && (Kind == LevelKind.None || Severity == other.Severity) && Episode == other.Episode;
}
