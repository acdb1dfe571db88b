using System.Globalization;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Reports;

/// <summary>Words of the JSON format for a sweep; they never change within one version of the format.</summary>
internal static class SweepWords
{
    public static string Word(this Verdict verdict) => verdict switch
    {
        Verdict.AsPlanned => "as-planned",
        Verdict.Warnings => "warnings",
        Verdict.Urgent => "urgent",
        _ => "incomplete",
    };

    /// <summary>A time with its zone, as the clock on the wall shows it: <c>2026-12-20 09:41 +01:00</c>.</summary>
    public static string Time(DateTimeOffset at) =>
        at.ToString("yyyy-MM-dd HH:mm ", CultureInfo.InvariantCulture) + (at.Offset == TimeSpan.Zero ? "UTC" : at.ToString("zzz", CultureInfo.InvariantCulture));

    public static string Word(this ReadEnd end) => end switch
    {
        ReadEnd.Complete => "complete",
        ReadEnd.Partial => "partial",
        ReadEnd.Silent => "silent",
        ReadEnd.FellSilent => "fell-silent",
        _ => "another-desk",
    };
}
