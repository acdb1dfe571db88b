using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Rehearsals;

/// <summary>Whether a rehearsed day told what its scenario says, and nothing more than it may.</summary>
/// <param name="Missing">Lines of the scenario that were not told in time.</param>
/// <param name="Others">What was told besides.</param>
/// <param name="TooMany">Whether that was more than there may be in one span.</param>
internal sealed record RehearsalVerdict(IReadOnlyList<string> Missing, IReadOnlyList<Alert> Others, string? TooMany)
{
    /// <summary>Whether all is as the scenario says.</summary>
    public bool IsAsTold => Missing.Count == 0 && TooMany is null;

    /// <summary>Judges a day.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="desk">site/desk, the first part of every key.</param>
    /// <param name="told">What was told, in order.</param>
    /// <param name="at">The time where the show is.</param>
    public static RehearsalVerdict Of(Scenario scenario, string desk, IReadOnlyList<Alert> told, Func<DateTimeOffset, DateTime> at)
    {
        var isTaken = new bool[told.Count];
        var missing = new List<string>();
        foreach (var line in scenario.Told)
        {
            Look(line, line.Raised, isRaised: true);
            Look(line, line.Cleared, isRaised: false);
        }

        var others = told.Where((_, number) => !isTaken[number]).ToList();
        return new RehearsalVerdict(missing, others, TooManyOf(scenario, others, at));

        void Look(ToldLine line, DateTime? from, bool isRaised)
        {
            if (from is not { } earliest)
                return;
            var key = $"{desk}/{line.Finding}";
            for (var number = 0; number < told.Count; number++)
            {
                var time = at(told[number].Told.At.Wall);
                if (isTaken[number] || told[number].Told.Key != key || IsNews(told[number].Told) != isRaised || time < earliest || time > earliest + line.Within)
                    continue;
                isTaken[number] = true;
                return;
            }

            missing.Add($"{line.Place}: {line.Finding} was not {(isRaised ? "told" : "cleared")} between {earliest:HH:mm:ss} and {earliest + line.Within:HH:mm:ss}");
        }
    }

    private static bool IsNews(Announcement told) => told.Digest is not null || told.Level.IsNews;

    private static string? TooManyOf(Scenario scenario, List<Alert> others, Func<DateTimeOffset, DateTime> at)
    {
        for (var first = 0; first + scenario.OthersAtMost < others.Count; first++)
        {
            var (begin, end) = (at(others[first].Told.At.Wall), at(others[first + scenario.OthersAtMost].Told.At.Wall));
            if (end - begin <= scenario.OthersWithin)
                return $"from {begin:HH:mm:ss} to {end:HH:mm:ss} {scenario.OthersAtMost + 1} other things were told, but {scenario.OthersAtMost} may be in {scenario.OthersWithin.TotalMinutes:0.##} min";
        }

        return null;
    }

    /// <summary>What one alert says, in a few words.</summary>
    public static string WordOf(Announcement told) => told.Digest is not null ? "digest" : told.Level.Kind switch
    {
        LevelKind.None => "cleared",
        LevelKind.Acknowledged => "known",
        LevelKind.Held => "put aside",
        LevelKind.Unstable => "comes and goes",
        LevelKind.Lapsed => "over, not known",
        _ => "raised",
    };
}
