using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>The keys of a plan's <c>schedule:</c>.</summary>
public static class ScheduleKeys
{
    private static readonly string[] Days = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

    /// <summary>The words for the days of the week, from Monday.</summary>
    public static IReadOnlyList<string> DayWords => Days;

    /// <summary>A phase that begins by the clock.</summary>
    public static KeyTable Phase { get; } = new("scheduled phase", "A phase that begins by the clock; it lasts until the next one, and ends a cue. Only a watch goes by it.",
        [.. Moment(), new KeyInfo("phase", new WordShape(Phases.All), "doors", "The phase.") { Required = true }]);

    /// <summary>A cue that begins by the clock.</summary>
    public static KeyTable Cue { get; } = new("scheduled cue", "A cue that begins by the clock. Only a watch goes by it.",
        [.. Moment(), new KeyInfo("cue", TextShape.Filled, "Sermon", "The cue, by its name under cues.") { Required = true }]);

    /// <summary>The day of the week of a word.</summary>
    public static bool TryParse(string word, out DayOfWeek day)
    {
        var index = Array.IndexOf(Days, word);
        day = (DayOfWeek)((index + 1) % 7);
        return index >= 0;
    }

    private static KeyInfo[] Moment() =>
    [
        new KeyInfo("at", new TextShape("^([01]?[0-9]|2[0-3]):[0-5][0-9]$"), "\"09:30\"", "The time of day in the show's zone, by 24 hours.") { Required = true },
        new KeyInfo("days", new ListShape(new WordShape(Days), single: true, least: 1), "[sunday]", "The days of the week on which it holds; not beside on.") { Default = "every day" },
        new KeyInfo("on", new TextShape("^[0-9]{4}-[0-9]{2}-[0-9]{2}$"), "2026-12-24", "The one day on which it holds: year-month-day. A day that any line names so goes by such lines alone."),
    ];
}
