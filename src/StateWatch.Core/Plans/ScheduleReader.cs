using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Reads the plan's <c>schedule:</c>: shapes, times and names, no desk needed.</summary>
internal static class ScheduleReader
{
    /// <summary>The most lines.</summary>
    public const int Most = 500;

    private const string How = "write { phase: doors, at: \"09:30\", days: [sunday] }";

    private static readonly DayOfWeek[] EveryDay = Enum.GetValues<DayOfWeek>();

    public static List<ScheduleLine> Read(IReadOnlyList<Node>? items, IReadOnlyList<CueLine> cues, DiagnosticBag diagnostics)
    {
        var lines = new List<ScheduleLine>();
        foreach (var item in items ?? [])
        {
            if (item is not MapNode map)
            {
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a line of the schedule is {item.Shape}, but a mapping belongs here", How);
            }
            else if (lines.Count == Most)
            {
                diagnostics.Add(DocumentCodes.OutOfRange, item.At, $"this is line {Most + 1} of the schedule, but it has at most {Most}", "leave out days that are over");
                break;
            }
            else if (ReadOne(map, cues, diagnostics) is { } line)
            {
                if (lines.Find(line.Meets) is { } other)
                    diagnostics.Add(PlanCodes.ScheduleTwice, line.Place, $"{line.What} begins when {other.What} does, at {other.Place.Place}, and nobody can say which holds then", "give one of them another time");
                lines.Add(line);
            }
        }

        return lines;
    }

    private static ScheduleLine? ReadOne(MapNode map, IReadOnlyList<CueLine> cues, DiagnosticBag diagnostics)
    {
        var isCue = map.Find("cue") is not null;
        if (isCue && map.Find("phase") is { } both)
        {
            diagnostics.Add(DocumentCodes.BadValue, both.At, "a line begins a phase or a cue, not both", "a cue belongs to the show by itself; write two lines if both are wanted at different times");
            return null;
        }

        var reader = new MapReader(map, isCue ? ScheduleKeys.Cue : ScheduleKeys.Phase, diagnostics);
        var what = reader.RequireScalar(isCue ? "cue" : "phase");
        var time = reader.RequireScalar("at");
        var on = reader.Scalar("on");
        var days = ReadDays(reader, map.Find("days")?.At ?? map.At, diagnostics);
        reader.Finish();
        var at = ReadTime(time, diagnostics);
        var date = ReadDate(on, diagnostics);
        if (on is not null && days is not null)
            diagnostics.Add(DocumentCodes.BadValue, on.At, "a line holds on days of the week or on one day, not both", "write days: or on:");
        if (what is null || at is null || (on is not null && date is null))
            return null;
        var cue = isCue ? ReadCue(what, cues, diagnostics) : null;
        var phase = isCue ? null : ReadPhase(what, diagnostics);
        return phase is null && cue is null ? null : new ScheduleLine(map.At, at.Value, phase, cue, on is null ? days ?? EveryDay : [], date);
    }

    private static Phase? ReadPhase(ScalarNode scalar, DiagnosticBag diagnostics)
    {
        if (Phases.TryParse(scalar.Text, out var phase))
            return phase;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a phase", $"write one of {string.Join(", ", Phases.All)}", NearestWord.Among(scalar.Text, Phases.All, diagnostics));
        return null;
    }

    private static string? ReadCue(ScalarNode scalar, IReadOnlyList<CueLine> cues, DiagnosticBag diagnostics)
    {
        if (cues.Any(cue => string.Equals(cue.Key.Text, scalar.Text, StringComparison.Ordinal)))
            return scalar.Text;
        var near = NearestWord.Among(scalar.Text, cues.Select(static cue => cue.Key.Text), diagnostics);
        diagnostics.Add(PlanCodes.UnknownName, scalar.At, $"the plan has no cue '{scalar.Text}'", near is null ? "write a name that stands under cues:" : $"did you mean '{near}'?", near);
        return null;
    }

    private static IReadOnlyList<DayOfWeek>? ReadDays(MapReader reader, Origin at, DiagnosticBag diagnostics)
    {
        if (reader.Items("days") is not { } items)
            return null;
        if (items.Count == 0)
            diagnostics.Add(DocumentCodes.OutOfRange, at, "the line names no day of the week, so it never begins", $"write some of {string.Join(", ", ScheduleKeys.DayWords)}, or leave days out for every day");
        var days = new SortedSet<DayOfWeek>();
        foreach (var item in items)
        {
            var word = (item as ScalarNode)?.Text;
            if (word is not null && ScheduleKeys.TryParse(word, out var day))
                days.Add(day);
            else
                diagnostics.Add(DocumentCodes.BadValue, item.At, $"'{word ?? item.Shape}' is not a day of the week", $"write some of {string.Join(", ", ScheduleKeys.DayWords)}", NearestWord.Among(word ?? "", ScheduleKeys.DayWords, diagnostics));
        }

        // Of days that nobody understands none is as good as another; the fault is told.
        return [.. days];
    }

    private static TimeOnly? ReadTime(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        if (TimeOnly.TryParseExact(scalar.Text, ["HH:mm", "H:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time))
            return time;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time of day", "write it by 24 hours, such as 09:30");
        return null;
    }

    private static DateOnly? ReadDate(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        if (DateOnly.TryParseExact(scalar.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return day;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a day", "write year-month-day, such as 2026-12-24");
        return null;
    }
}
