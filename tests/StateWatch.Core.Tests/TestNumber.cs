using System.Globalization;

namespace StateWatch.Core.Tests;

/// <summary>Numbers that may be given from outside, such as how often a random test is done.</summary>
internal static class TestNumber
{
    /// <summary>What the environment says, else the usual one.</summary>
    public static int Of(string variable, int usual) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : usual;
}
