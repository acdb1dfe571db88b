using System.Diagnostics;

namespace StateWatch.Protocol.Tests.Interop;

/// <summary>The command-line tools of liblo, a general-purpose OSC library (Debian package liblo-tools).</summary>
internal static class LibloTool
{
    public const string Reason = "liblo's oscsend and oscdump are not installed (Debian: apt-get install liblo-tools)";

    /// <summary>The longest any wait may take; no test waits so long unless something is broken.</summary>
    public static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);

    public static bool IsInstalled => Find("oscsend") is not null && Find("oscdump") is not null;

    public static Process Start(string tool, params string[] arguments)
    {
        var start = new ProcessStartInfo(Find(tool) ?? tool, arguments)
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        return Process.Start(start) ?? throw new InvalidOperationException($"{tool} did not start");
    }

    private static string? Find(string tool) => (Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator).Select(folder => Path.Combine(folder, tool)).FirstOrDefault(File.Exists);
}
