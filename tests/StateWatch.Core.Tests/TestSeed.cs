namespace StateWatch.Core.Tests;

/// <summary>Where random tests begin; printed with every failure.</summary>
internal static class TestSeed
{
    /// <summary>From STATEWATCH_SEED, else always the same.</summary>
    public static int Value { get; } = TestNumber.Of("STATEWATCH_SEED", 20260101);
}
