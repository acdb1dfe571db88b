using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A phase or cue that begins by the clock.</summary>
/// <param name="Place">The line.</param>
/// <param name="At">The time of day where the show is.</param>
/// <param name="Phase">The phase, or null for a cue.</param>
/// <param name="Cue">The cue, or null for a phase.</param>
/// <param name="Days">The days of the week on which it holds; empty where <paramref name="On"/> is said.</param>
/// <param name="On">The one day on which it holds, or null.</param>
public sealed record ScheduleLine(Origin Place, TimeOnly At, Phase? Phase, string? Cue, IReadOnlyList<DayOfWeek> Days, DateOnly? On)
{
    /// <summary>What begins, in words.</summary>
    public string What => Phase is { } phase ? phase.Word() : $"cue '{Cue}'";

    /// <summary>Whether both could begin at one moment. A day with lines of its own goes by those alone, so that those never meet a weekly line.</summary>
    public bool Meets(ScheduleLine other) => At == other.At && On == other.On && (On is not null || Days.Any(other.Days.Contains));
}
