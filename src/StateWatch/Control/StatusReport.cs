using System.Text.Json.Serialization;

namespace StateWatch.Control;

/// <summary>
/// How everything that is watched stands: what the text, the JSON and the exit code of <c>status</c> come from. Its JSON Schema is
/// <c>Schemas/status-1.schema.json</c>.
/// </summary>
internal sealed record StatusReport(string Site, DateTimeOffset At)
{
    public string Schema { get; init; } = "statewatch/status/1";

    /// <summary>as-planned, warnings, urgent or incomplete.</summary>
    public required string Verdict { get; init; }

    /// <summary>0 to 3, by the convention of monitoring plug-ins.</summary>
    public required int ExitCode { get; init; }

    public IReadOnlyList<DeskReport> Desks { get; init; } = [];

    /// <summary>What is wrong with the watch itself.</summary>
    public IReadOnlyList<FindingReport> Own { get; init; } = [];

    public IReadOnlyList<SinkReport> Sinks { get; init; } = [];

    public required HistoryReport History { get; init; }
}

/// <summary>How one desk stands.</summary>
internal sealed record DeskReport(string Desk, string Name)
{
    public string? Show { get; init; }

    public string? Phase { get; init; }

    public string? Cue { get; init; }

    /// <summary>When phase or cue last changed.</summary>
    public DateTimeOffset? Since { get; init; }

    /// <summary>When the phase changes by schedule, or null.</summary>
    public DateTimeOffset? NextAt { get; init; }

    public string? NextPhase { get; init; }

    public string? Address { get; init; }

    /// <summary>following, reading, lost, or down when its loop waits to begin anew.</summary>
    public required string Link { get; init; }

    public int Session { get; init; }

    public double? SilentSeconds { get; init; }

    /// <summary>How old the last full read is; null before the first.</summary>
    public double? ReadSecondsAgo { get; init; }

    public int Planned { get; init; }

    public int Verified { get; init; }

    public int CannotTell { get; init; }

    public IReadOnlyList<string> Cues { get; init; } = [];

    /// <summary>Worst first.</summary>
    public IReadOnlyList<FindingReport> Findings { get; init; } = [];
}

/// <summary>A finding that stands.</summary>
internal sealed record FindingReport(string Key, string Id, string Severity)
{
    /// <summary>raised, acknowledged, held, unstable, lapsed, settling or inhibited.</summary>
    public required string State { get; init; }

    public string? Text { get; init; }

    public string? Why { get; init; }

    public string? Do { get; init; }

    public DateTimeOffset? RaisedAt { get; init; }

    public int Episode { get; init; }

    /// <summary>Who acknowledged it or put it aside, why, and until when.</summary>
    public string? By { get; init; }

    public string? Reason { get; init; }

    public DateTimeOffset? Until { get; init; }

    public string? Setting { get; init; }

    public string? Planned { get; init; }

    public string? Live { get; init; }

    public string? PlanAt { get; init; }
}

/// <summary>How a sink stands.</summary>
internal sealed record SinkReport(string Name, string Place)
{
    /// <summary>up, failing or stopped.</summary>
    public required string State { get; init; }

    public int Waiting { get; init; }

    public long Delivered { get; init; }

    public DateTimeOffset? LastDelivered { get; init; }

    public string? LastError { get; init; }

    public DateTimeOffset? NextTry { get; init; }
}

/// <summary>Whether things are stored.</summary>
internal sealed record HistoryReport(string Place, bool IsFailing);

/// <summary>Something that somebody tells the watch to do.</summary>
/// <remarks>A word that this program does not know may change what is meant. Of answers it takes what it knows: a program that was renewed talks to a watch that was not.</remarks>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
internal sealed record OrderRequest
{
    /// <summary>Which finding: its key, its id, or the beginning of one.</summary>
    public string? Finding { get; init; }

    public string? Phase { get; init; }

    public string? Cue { get; init; }

    /// <summary>The desk's name, or null for all that it may concern.</summary>
    public string? Desk { get; init; }

    public string? By { get; init; }

    public string? Why { get; init; }

    public double? Minutes { get; init; }

    public bool Once { get; init; }

    public bool End { get; init; }
}

/// <summary>What became of it.</summary>
/// <param name="Done">Whether it was done wherever it was to be.</param>
/// <param name="Unknown">Whether a name in it means nothing here.</param>
/// <param name="Lines">For people, one line each.</param>
internal sealed record OrderAnswer(bool Done, bool Unknown, IReadOnlyList<string> Lines);

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true, NewLine = "\n")]
[JsonSerializable(typeof(StatusReport))]
[JsonSerializable(typeof(OrderRequest))]
[JsonSerializable(typeof(OrderAnswer))]
internal sealed partial class ControlJson : JsonSerializerContext;
