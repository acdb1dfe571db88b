using System.Security.Cryptography;
using System.Text.Json;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>
/// What a watch handed over, as lines that are the same when it is: alerts, both journals, and a hash of all the rest (ledger, findings, changes of
/// settings, coverage). So a replay is compared with all of it, and the first difference can be read.
/// </summary>
internal static class OutputLines
{
    /// <summary>How the line begins that stands for all the rest.</summary>
    public const string Rest = "rest ";

    /// <summary>The lines.</summary>
    public static List<string> Of(WatchOutput output)
    {
        var lines = new List<string>();
        foreach (var happening in output.Happenings)
            lines.Add($"show {JsonSerializer.Serialize(happening, RecordingJson.Default.ShowEvent)}");
        foreach (var line in output.Events)
            lines.Add($"journal {JsonSerializer.Serialize(line, RecordingJson.Default.LedgerEvent)}");
        foreach (var alert in output.Alerts)
            lines.Add($"told {alert.Told.Id} {JsonSerializer.Serialize(alert, RecordingJson.Default.Alert)}");
        var rest = new RestOfOutput(output.Ledger, output.Standing, output.Findings, output.Changes, output.Coverage);
        lines.Add($"{Rest}{Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(rest, RecordingJson.Default.RestOfOutput)))}");
        return lines;
    }
}
