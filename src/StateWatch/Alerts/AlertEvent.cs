using System.Text.Json.Serialization;

namespace StateWatch.Alerts;

/// <summary>One event in the JSON format of CloudEvents 1.0, structured mode; described by <c>Schemas/alert-1.schema.json</c>. Attributes that are null are left out.</summary>
internal sealed record AlertEvent<TData>(
    string Specversion,
    string Id,
    string Source,
    string Type,
    string Subject,
    string Time,
    string Datacontenttype,
    string Dataschema,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Sequence,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Recordedtime,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Severitytext,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] int? Severitynumber,
    TData Data);

/// <summary>One change of one finding.</summary>
internal sealed record FindingData(
    string Site,
    string Desk,
    string Show,
    string Phase,
    string? Cue,
    string Key,
    string Rule,
    int Episode,
    int Transition,
    string State,
    string Condition,
    string Severity,
    string Text,
    string? Why,
    string? Do,
    string? Strip,
    string? Name,
    string? Setting,
    string? Planned,
    string? Live,
    string? PlanAt,
    string? By,
    string? Reason,
    IReadOnlyList<string> Members,
    int MemberCount,
    bool Recorded,
    int Gap);

/// <summary>Many changes that are told together.</summary>
internal sealed record DigestData(
    string Site,
    string Desk,
    string Show,
    string Phase,
    string? Cue,
    string Text,
    IReadOnlyList<DigestLineData> Lines,
    int LineCount,
    bool Recorded,
    int Gap);

/// <summary>One of them.</summary>
internal sealed record DigestLineData(
    string Key,
    string Rule,
    int Episode,
    int Transition,
    string State,
    string Severity,
    int Passed,
    string Text,
    string? Do,
    string? Strip,
    string? Name,
    string? Setting,
    string? Planned,
    string? Live);

/// <summary>How a desk stands.</summary>
internal sealed record DeskData(
    string Site,
    string Desk,
    string Show,
    string Phase,
    string? Cue,
    string Since,
    string Following,
    int Session,
    double SilentSeconds,
    double? ReadSecondsAgo,
    CoverageData Coverage,
    CountData Findings,
    IReadOnlyList<StandingData> Standing,
    int StandingCount,
    NextPhaseData? Next);

/// <summary>How much of the plan was seen.</summary>
internal sealed record CoverageData(int Planned, int Verified, int CannotTell);

/// <summary>How many findings stand: by severity those that nobody has acknowledged or put aside, then the others.</summary>
internal sealed record CountData(int Urgent, int Warning, int Notice, int Acknowledged, int Held);

/// <summary>One finding that stands.</summary>
internal sealed record StandingData(string Key, int Episode, string State, string Severity, string Text);

/// <summary>When the phase will change by schedule.</summary>
internal sealed record NextPhaseData(string At, string Phase);

/// <summary>Writes events without reflection.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(AlertEvent<FindingData>))]
[JsonSerializable(typeof(AlertEvent<DigestData>))]
[JsonSerializable(typeof(AlertEvent<DeskData>))]
internal sealed partial class AlertJson : JsonSerializerContext;
