using System.Runtime.InteropServices;

namespace StateWatch.Hosting;

/// <summary>Whether the time of day of this machine can be trusted: the kernel says so where it may be asked, else the time service of systemd.</summary>
internal static class ClockTrust
{
    // adjtimex(2): the state when the clock is not synchronised, or something is wrong with it.
    private const int TimeError = 5;

    // More than struct timex has on any Linux; all zero asks and changes nothing.
    private const int TimexBytes = 512;

    // systemd-timesyncd.service(8): made when the time was first set by the network, gone with the next start of the machine.
    private const string Marker = "/run/systemd/timesync/synchronized";

    /// <summary>Asks.</summary>
    public static bool IsSynchronised() => !OperatingSystem.IsLinux() || IsSynchronised(AskKernel(), File.Exists(Marker));

    /// <summary>What the answers mean.</summary>
    /// <param name="kernel">What adjtimex(2) returned: -1 when it may not be asked.</param>
    /// <param name="isMarked">Whether the time service of systemd has set the clock.</param>
    internal static bool IsSynchronised(int kernel, bool isMarked) => kernel == -1 ? isMarked : kernel != TimeError;

    private static int AskKernel()
    {
        try
        {
            return Adjtimex(new byte[TimexBytes]);
        }
        catch (Exception problem) when (problem is EntryPointNotFoundException or DllNotFoundException)
        {
            return -1;
        }
    }

    [DllImport("libc", EntryPoint = "adjtimex")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Adjtimex(byte[] timex);
}
