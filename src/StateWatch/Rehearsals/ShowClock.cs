using StateWatch.Core.Watching;

namespace StateWatch.Rehearsals;

/// <summary>The clock on the wall where the show is, which may jump in the night: a time that it shows twice is the first of the two.</summary>
internal sealed class ShowClock(TimeZoneInfo zone)
{
    /// <summary>The instant at which it shows a time. Scenarios are far from the ends of all time, where there is none.</summary>
    public DateTimeOffset InstantOf(DateTime shown) => LocalTime.First(zone, shown)!.Value;

    /// <summary>What it shows at an instant.</summary>
    public DateTime At(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, zone).DateTime;
}
