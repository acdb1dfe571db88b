namespace StateWatch.Core.Watching;

/// <summary>Local times of a zone as instants.</summary>
public static class LocalTime
{
    /// <summary>The first instant at which clocks of a zone show a time or a later one: the first of two where it exists twice, the jump where clocks jump over it.</summary>
    /// <param name="zone">The zone.</param>
    /// <param name="local">What a clock there shows.</param>
    /// <returns>The instant, with the zone's offset; null at the ends of all time.</returns>
    public static DateTimeOffset? First(TimeZoneInfo zone, DateTime local)
    {
        local = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        var ticks = local.Ticks;
        // No zone is a day from UTC, so that the rules of a day before and after are those on both sides of any change in between.
        if (ticks < 2 * TimeSpan.TicksPerDay || ticks > DateTime.MaxValue.Ticks - 2 * TimeSpan.TicksPerDay)
            return null;
        var before = zone.GetUtcOffset(new DateTime(ticks - TimeSpan.TicksPerDay, DateTimeKind.Utc));
        var after = zone.GetUtcOffset(new DateTime(ticks + TimeSpan.TicksPerDay, DateTimeKind.Utc));
        var (early, late) = (ticks - Math.Max(before.Ticks, after.Ticks), ticks - Math.Min(before.Ticks, after.Ticks));
        foreach (var candidate in (ReadOnlySpan<long>)[early, late])
        {
            if (LocalTicks(zone, candidate) == ticks)
                return At(zone, candidate);
        }

        // Clocks jump over it somewhere in between.
        while (late - early > 1)
        {
            var middle = early + (late - early) / 2;
            if (LocalTicks(zone, middle) >= ticks)
                late = middle;
            else
                early = middle;
        }

        return At(zone, late);
    }

    private static long LocalTicks(TimeZoneInfo zone, long utc) => utc + zone.GetUtcOffset(new DateTime(utc, DateTimeKind.Utc)).Ticks;

    private static DateTimeOffset At(TimeZoneInfo zone, long utc) => TimeZoneInfo.ConvertTime(new DateTimeOffset(utc, TimeSpan.Zero), zone);
}
