namespace StateWatch.Core.Findings;

/// <summary>One check whose findings the ledger keeps.</summary>
/// <param name="Id"><c>rule:subject</c>, never a value, a text or a revision of the plan; unique on its desk.</param>
/// <param name="Timers">How long it must be off, and back on plan.</param>
/// <param name="IsLatching">Whether it is told until somebody acknowledges it, even when the desk is on plan again.</param>
/// <param name="IsProtected">Whether it may not be shelved, and comes first in lists.</param>
public sealed record WatchedCheck(string Id, TimerClass Timers, bool IsLatching = false, bool IsProtected = false)
{
    /// <summary>Whether it is never taken for a part of a bulk change: it says something of the watch itself.</summary>
    public bool StandsAlone { get; init; }
}
