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
            "delay" or "frequency" => [Number(value) + " " + value.Split(' ')[1]],
            "name" => [(value.Length > desk.NameLength ? value[..desk.NameLength] : value).TrimEnd(' ')],
            _ => [value],
        };
    }

    private static double Tolerance(object? tolerances, string key) =>
        NaiveYaml.Text(tolerances, key) is { } text ? double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture) : 0;

    private static HashSet<string> Near(IReadOnlyList<double> grid, string value, double tolerance)
    {
        var parts = value.Split(" within ");
        var wanted = double.Parse(parts[0].Split(' ')[0], CultureInfo.InvariantCulture);
        if (parts.Length > 1)
            tolerance = double.Parse(parts[1].Split(' ')[0], CultureInfo.InvariantCulture);
        return [.. grid.Where(step => Math.Abs(step - wanted) <= tolerance + 1e-6).Select(step => step.ToString("0.0##", CultureInfo.InvariantCulture) + " dB")];
    }

    private static string Number(string value) => double.Parse(value.Split(' ')[0], CultureInfo.InvariantCulture).ToString("0.0##", CultureInfo.InvariantCulture);
}
