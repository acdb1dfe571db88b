namespace StateWatch.Core.Auditing;

/// <summary>What a check says of a state.</summary>
public enum Verdict : byte
{
    /// <summary>An input is not fresh.</summary>
    CannotTell,

    /// <summary>The rule is kept.</summary>
    Kept,

    /// <summary>The rule is violated.</summary>
    Violated,
}
