namespace StateWatch.Core.Auditing;

/// <summary>Whether a rule speaks of the plan or of danger.</summary>
public enum FindingKind : byte
{
    /// <summary>An expectation that the live desk does not meet.</summary>
    Drift,

    /// <summary>Something dangerous or silent, whether or not a plan line names it; no phase frees it.</summary>
    Risk,
}

/// <summary>What a rule is, apart from where it applies.</summary>
/// <param name="Id">Stable identifier, first part of every finding's id.</param>
/// <param name="Kind">Drift or risk.</param>
/// <param name="Severity">How much it matters, by phase.</param>
/// <param name="Title">What it looks for, in a few words.</param>
/// <param name="Plural">Headline for several findings of one cause; <c>{0}</c> is their number.</param>
public sealed record RuleInfo(string Id, FindingKind Kind, SeverityByPhase Severity, string Title, string Plural);
