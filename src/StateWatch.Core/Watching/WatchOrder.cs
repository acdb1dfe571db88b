using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>Something that a watched desk is told to do. Orders stand in one line with what comes from the desk, so that one order rules everything.</summary>
/// <param name="By">Who or what gives it: a name, <c>schedule</c>, <c>message</c>.</param>
public abstract record WatchOrder(string By)
{
    /// <summary>Gets what became of it, on the desk's own thread; null when nobody waits for it.</summary>
    public Action<OrderResult>? Reply { get; init; }
}

/// <summary>A phase begins. It ends the cue.</summary>
public sealed record PhaseOrder(Phase Phase, string By) : WatchOrder(By);

/// <summary>A cue begins, or, without one, the cue ends.</summary>
public sealed record CueOrder(string? Cue, string By) : WatchOrder(By);

/// <summary>Somebody knows of a finding.</summary>
/// <param name="Key">site/desk/rule:subject, or rule:subject.</param>
/// <param name="By">Who.</param>
public sealed record AcknowledgeOrder(string Key, string By) : WatchOrder(By);

/// <summary>A finding is put aside for a while.</summary>
/// <param name="Key">site/desk/rule:subject, or rule:subject.</param>
/// <param name="By">Who.</param>
/// <param name="Why">Why.</param>
/// <param name="Span">For how long; null for 30 min.</param>
/// <param name="IsOneShot">Whether for this episode only.</param>
public sealed record HoldFindingOrder(string Key, string By, string Why, TimeSpan? Span, bool IsOneShot) : WatchOrder(By);

/// <summary>A finding that was put aside is told again.</summary>
public sealed record ReleaseOrder(string Key, string By) : WatchOrder(By);

/// <summary>Another plan holds from now on; or, when it could not be taken, the one before goes on and that is told.</summary>
/// <param name="Plan">The plan, or null when it has faults.</param>
/// <param name="Fault">The first fault with its place, and how many there are; null when there is none.</param>
/// <param name="By">Who or what asked for it.</param>
public sealed record ReloadOrder(WatchedPlan? Plan, string? Fault, string By) : WatchOrder(By);

/// <summary>A sink has taken something.</summary>
public sealed record DeliveredOrder(Announcement Announcement) : WatchOrder(Announcement.Sink);

/// <summary>A sink takes nothing any more, or takes things again.</summary>
/// <param name="Sink">Its name.</param>
/// <param name="IsUp">Which of the two.</param>
/// <param name="HasLostWaiting">When it is up again: whether what was handed over for it and not delivered will never be sent.</param>
public sealed record SinkOrder(string Sink, bool IsUp, bool HasLostWaiting) : WatchOrder(Sink);

/// <summary>What became of an order.</summary>
/// <param name="Outcome">Done, or why not.</param>
/// <param name="Text">One line for people: what was done, or what is wrong and what to do.</param>
public sealed record OrderResult(CommandOutcome Outcome, string Text)
{
    /// <summary>Whether it was done.</summary>
    public bool IsDone => Outcome == CommandOutcome.Done;
}
