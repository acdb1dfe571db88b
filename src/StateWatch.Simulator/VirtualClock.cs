namespace StateWatch.Simulator;

/// <summary>A clock that stands still until it is moved. A timestamp is a tick of 100 ns since it was made.</summary>
public sealed class VirtualClock : TimeProvider
{
    private readonly DateTimeOffset _start;
    private long _now;

    /// <summary>Makes a clock.</summary>
    /// <param name="start">The wall time at timestamp 0; midnight UTC of 1 January 2026 when not given.</param>
    public VirtualClock(DateTimeOffset? start = null) => _start = start ?? new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    /// <inheritdoc/>
    public override long GetTimestamp() => _now;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => _start.AddTicks(_now);

    /// <summary>Moves on to a timestamp; an earlier one than now changes nothing.</summary>
    public void AdvanceTo(long timestamp) => _now = Math.Max(_now, timestamp);

    /// <summary>Nothing here rings by itself: whoever waits asks for the time.</summary>
    /// <exception cref="NotSupportedException">Always.</exception>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        throw new NotSupportedException("A virtual clock has no timers.");
}
