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
    /// <param name="clock">The clock where the show is.</param>
    public static RehearsalVerdict Of(Scenario scenario, string desk, IReadOnlyList<Alert> told, ShowClock clock)
    {
        var isTaken = new bool[told.Count];
        var missing = new List<string>();
        foreach (var line in scenario.Told)
        {
            Look(line, line.Raised, "told", static told => told.Digest is not null || told.Level.Kind is LevelKind.Raised or LevelKind.Unstable);
            Look(line, line.Known, "told as known", static told => IsOne(told, LevelKind.Acknowledged));
            Look(line, line.PutAside, "told as put aside", static told => IsOne(told, LevelKind.Held));
            Look(line, line.Cleared, "cleared", static told => IsOne(told, LevelKind.None));
        }

        var others = told.Where((_, number) => !isTaken[number]).ToList();
        return new RehearsalVerdict(missing, others, TooManyOf(scenario, others, clock));

        void Look(ToldLine line, DateTime? from, string word, Func<Announcement, bool> says)
        {
            if (from is not { } shown)
                return;
            var (key, earliest) = ($"{desk}/{line.Finding}", clock.InstantOf(shown));
            for (var number = 0; number < told.Count; number++)
            {
                var time = told[number].Told.At.Wall;
                if (isTaken[number] || told[number].Told.Key != key || !says(told[number].Told) || time < earliest || time > earliest + line.Within)
                    continue;
                isTaken[number] = true;
                return;
            }

            missing.Add($"{line.Place}: {line.Finding} was not {word} between {clock.At(earliest):HH:mm:ss} and {clock.At(earliest + line.Within):HH:mm:ss}");
        }
    }

    // Of a digest only its lines say something.
    private static bool IsOne(Announcement told, LevelKind kind) => told.Digest is null && told.Level.Kind == kind;

    private static string? TooManyOf(Scenario scenario, List<Alert> others, ShowClock clock)
    {
        for (var first = 0; first + scenario.OthersAtMost < others.Count; first++)
        {
            var (begin, end) = (others[first].Told.At.Wall, others[first + scenario.OthersAtMost].Told.At.Wall);
            if (end - begin <= scenario.OthersWithin)
                return $"from {clock.At(begin):HH:mm:ss} to {clock.At(end):HH:mm:ss} {scenario.OthersAtMost + 1} other things were told, but {scenario.OthersAtMost} may be in {scenario.OthersWithin.TotalMinutes:0.##} min";
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
