using System.Globalization;

namespace StateWatch.Protocol.Tests;

/// <summary>Where random tests begin, and how long they go on.</summary>
internal static class TestSeed
{
    /// <summary>From STATEWATCH_SEED, else always the same.</summary>
    public static int Value { get; } = FromEnvironment("STATEWATCH_SEED", 20260101);

    /// <summary>From STATEWATCH_FUZZ, else enough for every build.</summary>
    public static int FuzzCount { get; } = FromEnvironment("STATEWATCH_FUZZ", 200_000);

    private static int FromEnvironment(string name, int otherwise) =>
        Environment.GetEnvironmentVariable(name) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;
}
