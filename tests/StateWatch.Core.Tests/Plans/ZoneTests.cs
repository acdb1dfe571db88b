using System.Globalization;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>The day where the show is. Offsets are those of the IANA time zone database: Lisbon is at UTC+1 in summer time, Auckland at UTC+13 in December.</summary>
public class ZoneTests
{
    [Theory]
    [InlineData("zone: Europe/Lisbon", "2026-07-01T22:59:59+00:00", 1)]
    [InlineData("zone: Europe/Lisbon", "2026-07-01T23:00:00+00:00", 2)]
    [InlineData("zone: Europe/Lisbon", "2026-07-02T01:00:00+03:00", 1)]
    [InlineData("zone: Europe/Lisbon", "2026-12-01T23:00:00+00:00", 1)]
    [InlineData("zone: Pacific/Auckland", "2026-12-01T10:59:59+00:00", 1)]
    [InlineData("zone: Pacific/Auckland", "2026-12-01T11:00:00+00:00", 2)]
    [InlineData("zone: UTC", "2026-07-02T00:30:00+01:00", 1)]
    [InlineData("", "2026-07-02T00:30:00+01:00", 2)] // no zone: the day of whoever looks
    public void Day_is_that_of_the_shows_zone(string line, string instant, int day) =>
        Assert.Equal(day, Written.Plan(line).Document.DayOf(DateTimeOffset.Parse(instant, CultureInfo.InvariantCulture)).Day);
}
