namespace StateWatch.Core.Plans;

/// <summary>Part of the day; it decides what is locked, guarded or free and how much a finding matters.</summary>
public enum Phase : byte
{
    /// <summary>Rigging and patching.</summary>
    Build,

    /// <summary>Soundcheck and rehearsal.</summary>
    Soundcheck,

    /// <summary>From the end of soundcheck until the show: the pre-show sweep.</summary>
    Doors,

    /// <summary>The show.</summary>
    Show,
}

/// <summary>What a phase makes of a setting class.</summary>
public enum PhaseLock : byte
{
    /// <summary>Any deviation is a finding.</summary>
    Locked,

    /// <summary>A deviation beyond the tolerance is a notice.</summary>
    Guarded,

    /// <summary>A deviation is nobody's business.</summary>
    Free,
}

/// <summary>The phase words.</summary>
public static class Phases
{
    private static readonly string[] Words = ["build", "soundcheck", "doors", "show"];

    /// <summary>All phase words in the order of the day.</summary>
    public static IReadOnlyList<string> All => Words;

    /// <summary>The word of a phase.</summary>
    public static string Word(this Phase phase) => Words[(int)phase];

    /// <summary>The phase of a word.</summary>
    public static bool TryParse(string? word, out Phase phase)
    {
        var index = Array.IndexOf(Words, word);
        phase = (Phase)Math.Max(0, index);
        return index >= 0;
    }
}
