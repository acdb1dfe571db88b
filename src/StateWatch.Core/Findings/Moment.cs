namespace StateWatch.Core.Findings;

/// <summary>One moment on both clocks. Everything is decided by the first; the second is only told to people and measures how long we were away.</summary>
/// <param name="Clock">Monotonic time since any fixed start; it never goes back and knows no time zones.</param>
/// <param name="Wall">The time of day.</param>
public readonly record struct Moment(TimeSpan Clock, DateTimeOffset Wall)
{
    /// <summary>The moment at another reading of the monotonic clock, as if the time of day had run evenly.</summary>
    internal Moment At(TimeSpan clock)
    {
        // A clock that was never set stands at the beginning of time, before which there is none.
        var ago = Clock - clock;
        return new Moment(clock, Wall.UtcTicks > ago.Ticks ? Wall - ago : Wall);
    }
}
