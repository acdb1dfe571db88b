namespace StateWatch.Alerts;

/// <summary>The numbers by which sinks are told. Starting values, but for those of the retries.</summary>
internal sealed record SinkNumbers
{
    /// <summary>How long after a failure it is tried again; the last one holds from then on.</summary>
    public IReadOnlyList<TimeSpan> Retries { get; init; } =
        [TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(5), TimeSpan.FromSeconds(30), TimeSpan.FromMinutes(2), TimeSpan.FromMinutes(5)];

    /// <summary>The longest that a receiver may make us wait: one that asks for a year is asked again before.</summary>
    public TimeSpan LongestAfter { get; init; } = TimeSpan.FromHours(1);

    /// <summary>How often one alert is tried that the receiver refuses, before it is put aside and the next one goes out.</summary>
    public int MostRefusals { get; init; } = 3;

    /// <summary>How long after an alert was put aside the sink is told again what it does not know.</summary>
    public TimeSpan RefusedAgainAfter { get; init; } = TimeSpan.FromHours(1);

    /// <summary>How long one delivery may take.</summary>
    public TimeSpan SendLimit { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How often a sink is told that the watch is alive; a receiver alarms after three that did not come.</summary>
    public TimeSpan BeatEvery { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How soon after an alert, or after a phase, cue or link changed, a sink that shows how desks stand gets a beat.</summary>
    public TimeSpan ShowWithin { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>A sink that has failed for so long is told as a finding, and, when it is alerts that failed, gets nothing more until it takes what waits.</summary>
    public TimeSpan NotDeliveringAfter { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>How many alerts may wait for one sink before superseded ones are thrown away.</summary>
    public int MostWaiting { get; init; } = 10_000;

    /// <summary>How many alerts that could not be recorded may wait in memory for one sink.</summary>
    public int MostUnrecorded { get; init; } = 1_000;

    /// <summary>How many rows of the outbox are read at once, and how many deliveries are noted in one transaction at the most.</summary>
    public int Batch { get; init; } = 64;

    /// <summary>How long a delivery may stay unnoted, and how often what waits is counted.</summary>
    public TimeSpan NoteWithin { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>How often the outbox is looked at even if nobody said that there is something.</summary>
    public TimeSpan LookEvery { get; init; } = TimeSpan.FromSeconds(5);
}
