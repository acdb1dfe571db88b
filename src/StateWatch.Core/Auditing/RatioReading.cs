using System.Globalization;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing;

/// <summary>What a desk makes of one ratio of the plan.</summary>
/// <param name="Ratio">What the plan says.</param>
/// <param name="Live">What the desk has, in dB; null when it cannot be told: a setting on the way was not seen, or nothing arrives.</param>
/// <param name="Met">Whether it is within what the plan allows; null when it cannot be told.</param>
public sealed record RatioReading(PlannedRatio Ratio, double? Live, bool? Met)
{
    /// <summary>The ratios of a plan of whose desk nothing is known.</summary>
    public static IReadOnlyList<RatioReading> Unread(ShowPlan plan) => [.. plan.Ratios.Select(ratio => new RatioReading(ratio, null, null))];

    /// <summary>A ratio as reports write it: <c>6.0 dB</c>.</summary>
    public static string Text(double ratio) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(ratio, 1) + 0.0:0.0} dB");
}
