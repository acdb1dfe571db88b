using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <summary>A phase or cue that begins by the clock, on one day.</summary>
/// <param name="At">When, with the offset of the show's zone.</param>
/// <param name="Phase">The phase, or null for a cue.</param>
/// <param name="Cue">The cue, or null for a phase.</param>
public readonly record struct ScheduledChange(DateTimeOffset At, Phase? Phase, string? Cue)
{
    /// <summary>Who gives its order.</summary>
    public const string By = "schedule";

    /// <summary>The order for a watch.</summary>
    public WatchOrder Order() => Phase is { } phase ? new PhaseOrder(phase, By) : new CueOrder(Cue, By);
}
