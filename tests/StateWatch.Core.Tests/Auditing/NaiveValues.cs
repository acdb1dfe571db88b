using System.Globalization;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>What a value of a plan allows on a desk; tolerances as the plan says for levels and gain.</summary>
internal static class NaiveValues
{
    public static HashSet<string> Allowed(NaiveDesk desk, string path, string value, object? tolerances)
    {
        var last = path[(path.LastIndexOf('/') + 1)..];
        return last switch
        {
            "fader" or "level" => Near(desk.Faders, value, Tolerance(tolerances, "levels")),
            "gain" => Near(desk.Gains, value, Tolerance(tolerances, NaiveYaml.Find(tolerances, "gain") is null ? "preamp" : "gain")),
            "delay" or "frequency" or "trim" => [Number(value) + " " + value.Split(' ')[1]],
            "name" => [(value.Length > desk.NameLength ? value[..desk.NameLength] : value).TrimEnd(' ')],
            _ => [value],
        };
    }

    private static double Tolerance(object? tolerances, string key) =>
        NaiveYaml.Text(tolerances, key) is { } text ? double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture) : 0;

    private static HashSet<string> Near(IReadOnlyList<double> grid, string value, double tolerance)
    {
        var parts = value.Split(" within ");
        var wanted = Decibels(parts[0]);
        if (parts.Length > 1)
            tolerance = double.Parse(parts[1].Split(' ')[0], CultureInfo.InvariantCulture);
        return [.. grid.Where(step => step.Equals(wanted) || Math.Abs(step - wanted) <= tolerance + 1e-6).Select(Spell)];
    }

    /// <summary>A level as reports print it.</summary>
    public static string Spell(double level) => double.IsNegativeInfinity(level) ? "-inf dB" : level.ToString("0.0##", CultureInfo.InvariantCulture) + " dB";

    /// <summary>A level as plans and reports write it.</summary>
    public static double Decibels(string text) =>
        text.StartsWith("-inf", StringComparison.Ordinal) ? double.NegativeInfinity : double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture);

    private static string Number(string value) => double.Parse(value.Split(' ')[0], CultureInfo.InvariantCulture).ToString("0.0##", CultureInfo.InvariantCulture);
}
