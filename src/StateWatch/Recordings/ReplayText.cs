using System.Globalization;
using System.Text;
using StateWatch.Core.Reports;
using StateWatch.Rehearsals;

namespace StateWatch.Recordings;

/// <summary>What people read of a replay: everything that was told and when, and whether that is what was recorded.</summary>
internal static class ReplayText
{
    /// <summary>Writes it.</summary>
    public static string Write(ReplayResult result, string path)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{PlainText.Clean(result.Header.Desk, 200)}, {At(result, result.From):yyyy-MM-dd HH:mm:ss} to {At(result, result.To):yyyy-MM-dd HH:mm:ss} ({path})");
        text.AppendLine(CultureInfo.InvariantCulture, $"{result.Batches:N0} batches, {result.Datagrams:N0} datagrams, {result.Orders:N0} orders, {result.Told.Count:N0} announcements");
        text.AppendLine();
        var isOne = result.Header.Sinks.Count == 1;
        foreach (var alert in result.Told)
        {
            var sink = isOne ? "" : $"{PlainText.Clean(alert.Told.Sink, 40),-12} ";
            text.AppendLine(CultureInfo.InvariantCulture, $"  {At(result, alert.Told.At.Wall):HH:mm:ss}  {sink}{RehearsalVerdict.WordOf(alert.Told),-15} {RehearsalText.Of(alert)}");
        }

        text.AppendLine();
        if (result.Cut is { } cut)
            text.AppendLine(cut);
        text.AppendLine(result.Fault is { } fault ? $"BROKEN: {fault}" : result.FirstDifference is { } difference ? $"DIFFERENT: {difference}" : result.Cut is null ? "identical to what was recorded" : "identical to what was recorded, as far as it goes");
        return text.ToString();
    }

    private static DateTime At(ReplayResult result, DateTimeOffset moment) => TimeZoneInfo.ConvertTime(moment, result.Zone).DateTime;
}
