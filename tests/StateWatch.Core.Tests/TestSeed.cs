using System.Globalization;

namespace StateWatch.Core.Tests;

/// <summary>Where random tests begin; printed with every failure.</summary>
internal static class TestSeed
{
    /// <summary>From STATEWATCH_SEED, else always the same.</summary>
    public static int Value { get; } =
        Environment.GetEnvironmentVariable("STATEWATCH_SEED") is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : 20260101;
}
