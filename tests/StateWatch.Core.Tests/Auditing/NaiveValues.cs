using System.Globalization;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What a value of the demo plan allows on a Larch 48, by hand from the desk's protocol sheet: faders in 800 steps with straight lines in
/// dB between their points, gain in whole decibels, names of twelve bytes; tolerances as the plan says for levels and gain.
/// </summary>
internal static class NaiveValues
{
    private static readonly (double Wire, double Decibels)[] Height = [(0.125, -60), (0.375, -30), (0.75, 0), (1, 10)];

    public static IReadOnlyList<double> Faders { get; } = [.. Enumerable.Range(0, 801).Select(step => DecibelsAt(step / 800.0))];

    public static HashSet<string> Allowed(string path, string value, object? tolerances)
    {
        var last = path[(path.LastIndexOf('/') + 1)..];
        return last switch
        {
            "fader" or "level" => Near(Faders, value, Tolerance(tolerances, "levels")),
            "gain" => Near([.. Enumerable.Range(0, 61).Select(gain => (double)gain)], value, Tolerance(tolerances, NaiveYaml.Find(tolerances, "gain") is null ? "preamp" : "gain")),
            "delay" or "frequency" => [Number(value) + " " + value.Split(' ')[1]],
            "name" => [(value.Length > 12 ? value[..12] : value).TrimEnd(' ')],
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

    private static double DecibelsAt(double wire)
    {
        if (wire <= 0)
            return double.NegativeInfinity;
        if (wire <= Height[0].Wire)
            return Height[0].Decibels;
        for (var i = 1; ; i++)
        {
            if (wire > Height[i].Wire)
                continue;
            var (fromWire, from) = Height[i - 1];
            return from + (Height[i].Decibels - from) * (wire - fromWire) / (Height[i].Wire - fromWire);
        }
    }
}
