using System.Globalization;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Records;

/// <summary>The words of a history as people and programs read them.</summary>
public static class HistoryWords
{
    /// <summary>The word of what happened.</summary>
    public static string Of(ShowEventKind kind) => kind switch
    {
        ShowEventKind.WatchBegan => "watch-began",
        ShowEventKind.WatchEnded => "watch-ended",
        ShowEventKind.PhaseBegan => "phase-began",
        ShowEventKind.CueBegan => "cue-began",
        ShowEventKind.CueEnded => "cue-ended",
        ShowEventKind.PlanReloaded => "plan-reloaded",
        ShowEventKind.PlanRefused => "plan-refused",
        ShowEventKind.SessionBegan => "desk-answers",
        ShowEventKind.ReadEnded => "read-ended",
        ShowEventKind.DeskSilent => "desk-silent",
        ShowEventKind.AnotherDesk => "another-desk",
        ShowEventKind.SubscriptionLost => "subscription-lost",
        ShowEventKind.ReadAgain => "read-again",
        ShowEventKind.BaselineTaken => "baseline-taken",
        _ => "baseline-missed",
    };

    /// <summary>A length of time, in its two largest units: <c>1 h 22 min</c>.</summary>
    public static string Of(TimeSpan span)
    {
        var seconds = (long)Math.Max(0, Math.Round(span.TotalSeconds));
        var (days, hours, minutes) = (seconds / 86_400, seconds / 3600 % 24, seconds / 60 % 60);
        return days > 0 ? Two(days, "d", hours, "h") : hours > 0 ? Two(hours, "h", minutes, "min") : minutes > 0 ? Two(minutes, "min", seconds % 60, "s") : $"{seconds} s";
    }

    /// <summary>So many of something: <c>1 finding</c>, <c>2 findings</c>.</summary>
    public static string Of(int count, string one) => $"{count.ToString("N0", CultureInfo.InvariantCulture)} {one}{(count == 1 ? "" : "s")}";

    /// <summary>A share in per cent; rounded down, so that what was not all is never called so.</summary>
    public static string Percent(double share) => (Math.Floor((share * 1000) + 1e-9) / 10).ToString("0.0", CultureInfo.InvariantCulture) + " %";

    private static string Two(long one, string unit, long other, string smaller) => other == 0 ? $"{one} {unit}" : $"{one} {unit} {other} {smaller}";
}
