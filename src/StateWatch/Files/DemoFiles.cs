using System.Reflection;

namespace StateWatch.Files;

/// <summary>The demo show, carried inside the program so that it runs anywhere.</summary>
internal static class DemoFiles
{
    private const string Prefix = "demo:";

    /// <summary>The demo plan.</summary>
    public const string Plan = Prefix + "midwinter.plan.yaml";

    /// <summary>The demo's desk.</summary>
    public const string Desk = Prefix + "larch-48.desk.yaml";

    /// <summary>The demo's planted incidents.</summary>
    public const string Incidents = Prefix + "midwinter.incidents.yaml";

    /// <summary>Whether a name stands for an embedded file.</summary>
    public static bool IsDemo(string name) => name.StartsWith(Prefix, StringComparison.Ordinal);

    /// <summary>The bytes of an embedded file.</summary>
    public static byte[] Read(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name[Prefix.Length..])
            ?? throw new FileNotFoundException("the program carries no such demo file", name);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
