using System.Text.Json.Serialization;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Recordings;

/// <summary>How the parts of a recording that are no datagrams are written, by the same rules as the history's records, but with what is null, so that nothing may be missing.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, IgnoreReadOnlyProperties = true,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals, RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true, Converters = [typeof(WholeText)])]
[JsonSerializable(typeof(RecordingHeader))]
[JsonSerializable(typeof(RecordedOrder))]
[JsonSerializable(typeof(Alert))]
[JsonSerializable(typeof(LedgerEvent))]
[JsonSerializable(typeof(ShowEvent))]
[JsonSerializable(typeof(RestOfOutput))]
internal sealed partial class RecordingJson : JsonSerializerContext;

/// <summary>What of an output is neither told nor in a journal of findings or of the show.</summary>
internal sealed record RestOfOutput(LedgerState Ledger, ShowStanding Standing, IReadOnlyList<StoredFinding> Findings, IReadOnlyList<SettingChange> Changes, IReadOnlyList<CoverageSample> Coverage);
