namespace StateWatch.Core.Findings;

/// <summary>One check whose findings the ledger keeps.</summary>
/// <param name="Id"><c>rule:subject</c>, never a value, a text or a revision of the plan; unique on its desk.</param>
/// <param name="Timers">How long it must be off, and back on plan.</param>
/// <param name="IsLatching">Whether it is told until somebody acknowledges it, even when the desk is on plan again.</param>
/// <param name="IsProtected">Whether it may not be shelved, and comes first in lists.</param>
/// <param name="OwnOnDelay">How much fresh drift raises it, where the plan says so; null for what its class says.</param>
/// <param name="OwnOffDelay">How much uninterrupted fresh match clears it; null for what its class says.</param>
public sealed record WatchedCheck(string Id, TimerClass Timers, bool IsLatching = false, bool IsProtected = false, TimeSpan? OwnOnDelay = null, TimeSpan? OwnOffDelay = null)
{
    // A plan allows an hour at most; what storage damaged must not overflow the clock.
    private static readonly TimeSpan Most = TimeSpan.FromDays(1);

    /// <summary>Whether it is never taken for a part of a bulk change: it says something of the watch itself.</summary>
    public bool StandsAlone { get; init; }

    /// <summary>How much fresh drift raises it; a day at most.</summary>
    public TimeSpan OnDelay => Sane(OwnOnDelay) ?? Timers.OnDelay();

    /// <summary>How much uninterrupted fresh match clears it; a day at most.</summary>
    public TimeSpan OffDelay => Sane(OwnOffDelay) ?? Timers.OffDelay();

    private static TimeSpan? Sane(TimeSpan? delay) => delay is { } own ? TimeSpan.FromTicks(Math.Clamp(own.Ticks, 0, Most.Ticks)) : null;
}
