using System.CommandLine;
using System.Globalization;

namespace StateWatch.Commands;

/// <summary>An option that takes a moment: RFC 3339, or a day, a day and a time, or a time of today, where this machine is.</summary>
internal sealed class TimeOption(string name, string description, bool isEnd)
{
    private static readonly string[] WithDay = ["yyyy-MM-dd HH:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss"];
    private static readonly string[] OfToday = ["HH:mm", "HH:mm:ss", "H:mm"];
    private static readonly string[] Offsets = ["yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"];

    /// <summary>The option.</summary>
    public Option<string?> Option { get; } = new(name) { Description = description, HelpName = "TIME" };

    /// <summary>The moment, or null when none was given.</summary>
    /// <exception cref="CommandException">It is none (exit 64).</exception>
    public DateTimeOffset? Of(ParseResult parsed, TimeProvider clock) =>
        parsed.GetValue(Option) is not { } text ? null : Read(text, clock.GetUtcNow(), clock.LocalTimeZone, isEnd)
        ?? throw new CommandException(ExitCodes.Usage, $"statewatch: '{text}' is no time for {name}; write 2026-11-29, '2026-11-29 09:40', 09:40 (today), or 2026-11-29T08:40:00Z. A time that the clock change leaves out is none either.");

    /// <summary>The moment that a text means; null when it means none.</summary>
    /// <param name="text">The text.</param>
    /// <param name="now">Now.</param>
    /// <param name="zone">Where this machine is.</param>
    /// <param name="isEnd">Whether a day means its end; else its beginning.</param>
    public static DateTimeOffset? Read(string text, DateTimeOffset now, TimeZoneInfo zone, bool isEnd)
    {
        text = text.Trim();
        var invariant = CultureInfo.InvariantCulture;
        if (Rfc3339(text) is { } moment)
            return moment;
        if (DateTime.TryParseExact(text, "yyyy-MM-dd", invariant, DateTimeStyles.None, out var day))
            return day == DateTime.MaxValue.Date ? null : Local(isEnd ? day.AddDays(1) : day, zone);
        if (DateTime.TryParseExact(text, WithDay, invariant, DateTimeStyles.None, out var time))
            return Local(time, zone);
        return TimeOnly.TryParseExact(text, OfToday, invariant, DateTimeStyles.None, out var hour) ? Local(TimeZoneInfo.ConvertTime(now, zone).Date + hour.ToTimeSpan(), zone) : null;
    }

    private static DateTimeOffset? Rfc3339(string text)
    {
        text = text.ToUpperInvariant();
        // A leap second is the last of its minute; what this program stores has none.
        var leap = text.Length > 19 && text.AsSpan(16, 3) is ":60";
        if (leap)
            text = $"{text[..17]}59{text[19..]}";
        return DateTimeOffset.TryParseExact(text, Offsets, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var moment) ? moment + (leap ? TimeSpan.FromSeconds(1) : TimeSpan.Zero) : null;
    }

    // Of a time that comes twice the first is meant; one that the clock change leaves out is none.
    private static DateTimeOffset? Local(DateTime time, TimeZoneInfo zone)
    {
        if (zone.IsInvalidTime(time))
            return null;
        var offset = zone.IsAmbiguousTime(time) ? zone.GetAmbiguousTimeOffsets(time).Max() : zone.GetUtcOffset(time);
        var utc = time.Ticks - offset.Ticks;
        return utc < DateTime.MinValue.Ticks || utc > DateTime.MaxValue.Ticks ? null : new DateTimeOffset(time, offset);
    }
}
