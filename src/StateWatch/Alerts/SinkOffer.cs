namespace StateWatch.Alerts;

/// <summary>A sink, or everything that is wrong with its settings.</summary>
/// <param name="Sink">The sink; null when something is wrong.</param>
/// <param name="Faults">What is wrong.</param>
internal sealed record SinkOffer(IAlertSink? Sink, IReadOnlyList<SinkFault> Faults);

/// <summary>One thing that is wrong.</summary>
/// <param name="Key">The key below <c>sinks:NAME</c>; empty when it is the sink as such.</param>
/// <param name="Words">What is wrong and what to write instead; no secrets.</param>
internal readonly record struct SinkFault(string Key, string Words);

/// <summary>What sinks are made with.</summary>
/// <param name="Site">The first part of every key.</param>
/// <param name="Guard">Keeps them away from watched desks.</param>
/// <param name="Clock">The time.</param>
/// <param name="Log">Where a log sink writes.</param>
internal sealed record SinkSurroundings(string Site, SinkGuard Guard, TimeProvider Clock, ILogger Log)
{
    /// <summary>All names that the watched plans give to strips at the moment, to be hidden where that is asked for.</summary>
    public Func<IReadOnlyCollection<PlannedName>> PlannedNames { get; init; } = static () => [];

    /// <summary>Gives environment variables.</summary>
    public Func<string, string?> Environment { get; init; } = System.Environment.GetEnvironmentVariable;
}
