using System.Globalization;
using StateWatch.Core.Findings;
using StateWatch.Core.Records;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Rehearsals;

/// <summary>What people read of a rehearsed day: everything that was told and when, and whether that is what had to be.</summary>
internal static class RehearsalText
{
    /// <summary>Writes it.</summary>
    public static void Write(TextWriter to, string path, Scenario scenario, RehearsedDay day, RehearsalVerdict verdict)
    {
        var others = verdict.Others.ToHashSet();
        to.WriteLine($"{PlainText.Clean(scenario.Say)} ({path})");
        to.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{scenario.Begins:yyyy-MM-dd HH:mm} to {scenario.Ends:HH:mm}, {day.Moves:N0} moves on the desk, {day.Told.Count} announcements, of which {others.Count} not asked for (marked +)"));
        to.WriteLine();
        foreach (var alert in day.Told)
            to.WriteLine($"{(others.Contains(alert) ? '+' : ' ')} {day.Clock.At(alert.Told.At.Wall):HH:mm:ss}  {RehearsalVerdict.WordOf(alert.Told),-15} {Of(alert)}");
        to.WriteLine();
        foreach (var line in verdict.Missing)
            to.WriteLine($"missing: {line}");
        foreach (var refused in day.Refused)
            to.WriteLine($"refused: {refused}");
        if (verdict.TooMany is { } tooMany)
            to.WriteLine($"too many: {tooMany}");
        to.WriteLine(verdict.IsAsTold && day.Refused.Count == 0 ? "as it had to be" : "NOT as it had to be");
    }

    /// <summary>What is told, in a line or two.</summary>
    public static string Of(Alert alert)
    {
        if (alert.Told.Digest is { } digest)
            return $"{digest.Count} findings: {string.Join(", ", digest.Take(3).Select(static line => Finding(line.Key)))}{(digest.Count > 3 ? " …" : "")}";
        var id = Finding(alert.Told.Key);
        return alert.Told.Level.Kind == LevelKind.None ? id : $"{id}\n{new string(' ', 28)}{PlainText.Clean(alert.Words?.Text ?? "", 160)}";
    }

    // Keys come out of recordings too, which may be anything.
    private static string Finding(string key) => PlainText.Clean(FindingKeys.IdOf(key), 200);
}
