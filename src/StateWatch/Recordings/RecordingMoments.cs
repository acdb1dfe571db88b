namespace StateWatch.Recordings;

/// <summary>
/// Moments as they are written: the timestamp from the last one, and by how much the time of day went otherwise than evenly. So of an even clock only
/// one small number is written.
/// </summary>
internal struct RecordingMoments(long frequency)
{
    /// <summary>No timestamp is further from zero: a century of nanoseconds is not.</summary>
    public const long FarthestTimestamp = 1L << 62;

    /// <summary>The last timestamp.</summary>
    public long Timestamp { get; private set; }

    /// <summary>The last time of day, in ticks of UTC.</summary>
    public long Wall { get; private set; }

    /// <summary>Goes on to a moment; what is to be written of it.</summary>
    public (long Timestamp, long Wall) Step(long timestamp, long wall)
    {
        var step = unchecked(timestamp - Timestamp);
        var uneven = unchecked(wall - Wall - Ticks(step));
        (Timestamp, Wall) = (timestamp, wall);
        return (step, uneven);
    }

    /// <summary>Goes on by what was written; whether there is such a moment.</summary>
    public bool TryStep(long step, long uneven)
    {
        (Timestamp, Wall) = unchecked((Timestamp + step, Wall + Ticks(step) + uneven));
        return Timestamp is >= -FarthestTimestamp and <= FarthestTimestamp && Wall >= 0 && Wall <= DateTimeOffset.MaxValue.Ticks;
    }

    private readonly long Ticks(long step) => unchecked((long)((Int128)step * TimeSpan.TicksPerSecond / frequency));
}
