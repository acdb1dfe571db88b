using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>What a check says.</summary>
public enum ReadingKind : byte
{
    /// <summary>It cannot tell: an input is not fresh, or judging failed.</summary>
    Unknown,

    /// <summary>The rule is kept.</summary>
    Match,

    /// <summary>The rule is violated.</summary>
    Drift,

    /// <summary>The desk cannot tell what the check needs, and never will.</summary>
    Unsupported,
}

/// <summary>What a check says at one moment.</summary>
/// <param name="Kind">Match, drift or not known.</param>
/// <param name="Severity">How much a drift matters; a silent one is taken as a match.</param>
/// <param name="IsInner">Of a match: whether it lies in the inner band (80 % of the tolerance, at least one step of the desk narrower). Only such a match begins to clear.</param>
/// <param name="Band">Of a drift: how many tolerances away it lies, from zero. One that moves to a farther band is told again.</param>
/// <param name="Live">Of a drift: the canonical text of the live value, by which expected changes permit it; null permits nothing.</param>
/// <param name="Lasting">Of a drift that people may bring about for a moment: how much it matters once it has lasted; silent where that makes no difference.</param>
public readonly record struct Reading(ReadingKind Kind, Severity Severity = Severity.Silent, bool IsInner = true, int Band = 0, string? Live = null, Severity Lasting = Severity.Silent)
{
    /// <summary>A match well inside the tolerance.</summary>
    public static Reading Match { get; } = new(ReadingKind.Match);

    /// <summary>A match between the inner band and the tolerance.</summary>
    public static Reading OuterMatch { get; } = new(ReadingKind.Match, IsInner: false);

    /// <summary>Not known.</summary>
    public static Reading Unknown { get; }

    /// <summary>A drift.</summary>
    public static Reading Drift(Severity severity, string? live = null, int band = 0) => new(ReadingKind.Drift, severity, Band: band, Live: live);

    /// <summary>What a check of the live audit says: one that is violated but not told, being free in this phase or explained by another, is as good as kept.</summary>
    public static Reading Of(Verdict verdict, Severity severity, EdgeDistance distance = default) => verdict switch
    {
        Verdict.Violated when severity > Severity.Silent => Drift(severity, band: distance.Band),
        Verdict.CannotTell => Unknown,
        _ => distance.IsAtEdge ? OuterMatch : Match,
    };
}
