using System.Globalization;
using StateWatch.Commands;

namespace StateWatch.Tests.Commands;

/// <summary>Moments as people and programs write them.</summary>
public sealed class TimeOptionTests
{
    // Paris: one hour east, two in summer; on 2026-03-29 there is no 02:30, on 2026-10-25 it comes twice.
    private static readonly TimeZoneInfo Paris = TimeZoneInfo.FindSystemTimeZoneById("Europe/Paris");
    private static readonly DateTimeOffset Now = new(2026, 11, 29, 10, 15, 0, TimeSpan.Zero);

    // RFC 3339, section 5.8.
    [Theory]
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.5200000+00:00")]
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57.0000000+00:00")]
    [InlineData("1990-12-31T23:59:60Z", "1991-01-01T00:00:00.0000000+00:00")]
    [InlineData("1990-12-31T15:59:60-08:00", "1991-01-01T00:00:00.0000000+00:00")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.8700000+00:00")]
    [InlineData("1985-04-12t23:20:50z", "1985-04-12T23:20:50.0000000+00:00")]
    public void Examples_of_the_standard_are_read(string text, string utc) => Assert.Equal(utc, Read(text));

    [Theory]
    [InlineData("1985-04-31T00:00:00Z")]
    [InlineData("2100-02-29T00:00:00Z")]
    [InlineData("1990-12-31T24:00:00Z")]
    [InlineData("2026-02-30")]
    [InlineData("25:00")]
    [InlineData("9")]
    [InlineData("")]
    [InlineData("2026-11-29 9.40")]
    [InlineData("2026-03-29 02:30")] // left out by the clock change
    [InlineData("9999-12-31")]
    public void What_is_no_moment_is_refused(string text) => Assert.Null(TimeOption.Read(text, Now, Paris, isEnd: true));

    [Theory]
    [InlineData("2026-11-29", "2026-11-28T23:00:00.0000000+00:00")]
    [InlineData("2026-11-29 09:40", "2026-11-29T08:40:00.0000000+00:00")]
    [InlineData("2026-07-05T09:40:30", "2026-07-05T07:40:30.0000000+00:00")]
    [InlineData("09:40", "2026-11-29T08:40:00.0000000+00:00")]
    [InlineData(" 9:40 ", "2026-11-29T08:40:00.0000000+00:00")]
    [InlineData("2026-10-25 02:30", "2026-10-25T00:30:00.0000000+00:00")] // the first of two
    public void Local_times_are_meant_where_the_machine_is(string text, string utc) => Assert.Equal(utc, Read(text));

    [Fact]
    public void Day_as_an_end_is_meant_whole() =>
        Assert.Equal(new DateTimeOffset(2026, 11, 29, 23, 0, 0, TimeSpan.Zero), TimeOption.Read("2026-11-29", Now, Paris, isEnd: true)!.Value.ToUniversalTime());

    private static string? Read(string text) => TimeOption.Read(text, Now, Paris, isEnd: false)?.ToUniversalTime().ToString("O", CultureInfo.InvariantCulture);
}
