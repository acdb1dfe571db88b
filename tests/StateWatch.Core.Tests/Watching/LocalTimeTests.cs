using System.Diagnostics;
using System.Globalization;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>
/// Local times as instants. Dates of changes are those of the IANA time zone database: the European Union on the last Sundays of March and October at 01:00 UTC (directive
/// 2000/84/EC), the United States on the second Sunday of March and the first of November at 02:00, Lord Howe Island by half an hour on the first Sundays of October and April at 02:00.
/// </summary>
public class LocalTimeTests(ITestOutputHelper output)
{
    private const string Format = "yyyy-MM-ddTHH:mm";

    [Theory]
    [InlineData("Europe/Lisbon", "2026-03-28T10:15", "2026-03-28T10:15")]
    [InlineData("Europe/Lisbon", "2026-03-29T00:59", "2026-03-29T00:59")]
    [InlineData("Europe/Lisbon", "2026-03-29T01:00", "2026-03-29T01:00")] // does not exist: clocks go from 00:59 to 02:00
    [InlineData("Europe/Lisbon", "2026-03-29T01:30", "2026-03-29T01:00")]
    [InlineData("Europe/Lisbon", "2026-03-29T02:00", "2026-03-29T01:00")]
    [InlineData("Europe/Lisbon", "2026-03-29T10:15", "2026-03-29T09:15")]
    [InlineData("Europe/Lisbon", "2026-10-25T00:59", "2026-10-24T23:59")]
    [InlineData("Europe/Lisbon", "2026-10-25T01:30", "2026-10-25T00:30")] // exists twice
    [InlineData("Europe/Lisbon", "2026-10-25T02:00", "2026-10-25T02:00")]
    [InlineData("America/New_York", "2026-03-08T02:30", "2026-03-08T07:00")]
    [InlineData("America/New_York", "2007-11-04T01:30", "2007-11-04T05:30")] // the example of RFC 5545, section 3.3.5: 1:30 A.M. EDT (UTC-04:00)
    [InlineData("America/New_York", "2026-11-01T02:00", "2026-11-01T07:00")]
    [InlineData("Australia/Lord_Howe", "2026-10-04T02:15", "2026-10-03T15:30")] // clocks go from 02:00 to 02:30
    [InlineData("Australia/Lord_Howe", "2026-10-04T02:30", "2026-10-03T15:30")]
    [InlineData("Australia/Lord_Howe", "2026-10-04T10:00", "2026-10-03T23:00")]
    [InlineData("Australia/Lord_Howe", "2026-04-05T01:45", "2026-04-04T14:45")] // exists twice: clocks go from 02:00 to 01:30
    [InlineData("Australia/Lord_Howe", "2026-04-05T02:00", "2026-04-04T15:30")]
    [InlineData("Asia/Tokyo", "2026-03-29T02:30", "2026-03-28T17:30")] // no change, ever
    [InlineData("Pacific/Apia", "2011-12-30T12:00", "2011-12-30T10:00")] // a whole day that never was
    [InlineData("UTC", "2026-03-29T01:30", "2026-03-29T01:30")]
    public void Time_that_exists_twice_counts_the_first_time_and_one_that_never_was_at_the_jump(string zone, string local, string utc)
    {
        Assert.SkipUnless(TimeZoneInfo.TryFindSystemTimeZoneById(zone, out var found), "this machine has no time zone data");
        Assert.Equal(utc, LocalTime.First(found!, DateTime.ParseExact(local, Format, CultureInfo.InvariantCulture))!.Value.UtcDateTime.ToString(Format, CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Beyond_the_ends_of_time_there_is_none()
    {
        Assert.Null(LocalTime.First(TimeZoneInfo.Utc, DateTime.MinValue));
        Assert.Null(LocalTime.First(TimeZoneInfo.Utc, DateTime.MaxValue));
    }

    // Python's own zone files and rules: fold 0 is the first of two (PEP 495); where the round trip through UTC gives another time, it never was, and the jump is looked for minute by minute.
    private const string Script = """
        from datetime import datetime, timedelta, timezone
        from zoneinfo import ZoneInfo
        for name in ["Europe/Lisbon", "Europe/Dublin", "America/New_York", "America/Santiago", "Australia/Lord_Howe", "Pacific/Auckland", "Africa/Casablanca", "Asia/Kathmandu", "America/St_Johns", "Pacific/Chatham", "Asia/Tokyo", "Antarctica/Troll"]:
            zone = ZoneInfo(name)
            day = datetime(2025, 12, 30)
            while day < datetime(2027, 1, 3):
                for minutes in (0, 15, 30, 75, 90, 120, 135, 150, 165, 180, 615, 1439):
                    local = day + timedelta(minutes=minutes)
                    utc = local.replace(tzinfo=zone).astimezone(timezone.utc)
                    if utc.astimezone(zone).replace(tzinfo=None) != local:
                        utc = local.replace(tzinfo=timezone.utc) - timedelta(hours=20)
                        while utc.astimezone(zone).replace(tzinfo=None) < local:
                            utc += timedelta(minutes=1)
                    print(name, local.strftime("%Y-%m-%dT%H:%M"), utc.strftime("%Y-%m-%dT%H:%M"))
                day += timedelta(days=1)
        """;

    [Fact]
    public async Task All_times_of_a_year_in_twelve_zones_are_those_of_another_implementation()
    {
        var written = await Python(Script);
        Assert.SkipWhen(written is null, "python3 with zone data is not installed; times are compared with its zoneinfo");
        var lines = written!.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var zones = new Dictionary<string, TimeZoneInfo>(StringComparer.Ordinal);
        var wrong = new List<string>();
        foreach (var line in lines)
        {
            var words = line.Split(' ');
            if (!zones.TryGetValue(words[0], out var zone))
                zones.Add(words[0], zone = TimeZoneInfo.FindSystemTimeZoneById(words[0]));
            var ours = LocalTime.First(zone, DateTime.ParseExact(words[1], Format, CultureInfo.InvariantCulture))!.Value.UtcDateTime.ToString(Format, CultureInfo.InvariantCulture);
            if (ours != words[2])
                wrong.Add($"{line}: {ours}");
        }

        output.WriteLine($"{lines.Length} times in {zones.Count} zones");
        Assert.True(wrong.Count == 0, $"{wrong.Count} of {lines.Length}: {string.Join("; ", wrong.Take(5))}");
        Assert.True(lines.Length > 50_000);
    }

    // Null where there is no Python, or one without its zoneinfo or zone data.
    private static async Task<string?> Python(string script)
    {
        try
        {
            var start = new ProcessStartInfo("python3") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
            start.ArgumentList.Add("-c");
            start.ArgumentList.Add(script);
            using var python = Process.Start(start)!;
            var errors = python.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            var text = await python.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            var said = await errors;
            await python.WaitForExitAsync(TestContext.Current.CancellationToken);
            if (said.Contains("ModuleNotFoundError", StringComparison.Ordinal) || said.Contains("ImportError", StringComparison.Ordinal))
                return null;
            Assert.True(python.ExitCode == 0, said);
            return text;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
