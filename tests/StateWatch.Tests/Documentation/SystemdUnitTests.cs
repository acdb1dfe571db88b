using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Documentation;

/// <summary>The shipped units, by systemd's own judgement.</summary>
public sealed class SystemdUnitTests
{
    private const string Analyze = "/usr/bin/systemd-analyze";

    // The goal for units that have nothing to do but ask a desk; systemd calls up to 2.0 "OK".
    private const double MostExposure = 1.5;

    private static readonly string Units = Path.Combine(AppContext.BaseDirectory, "systemd");

    public static TheoryData<string> Services => [.. Directory.EnumerateFiles(Units, "*.service").Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Services))]
    public async Task Service_is_hardened(string service)
    {
        var (exitCode, output) = await Run("security", "--offline=true", "--no-pager", Path.Combine(Units, service));
        var exposure = double.Parse(Regex.Match(output, @"Overall exposure level for \S+: (?<level>[0-9.]+)", RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1)).Groups["level"].Value, CultureInfo.InvariantCulture);
        Assert.True(exitCode == 0 && exposure <= MostExposure, output);
    }

    [Fact]
    public async Task Units_have_no_mistake_that_systemd_knows()
    {
        using var folder = new ScratchFolder();
        // The program is not installed on the machine that tests, so that systemd would miss it.
        foreach (var file in Directory.EnumerateFiles(Units).Where(file => Path.GetExtension(file) is ".service" or ".timer"))
            folder.Write(Path.GetFileName(file), (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).Replace("/usr/local/bin/statewatch", "/bin/true", StringComparison.Ordinal));
        foreach (var file in Directory.EnumerateFiles(Units).Where(file => Path.GetExtension(file) is ".service" or ".timer"))
        {
            var (exitCode, output) = await Run("verify", "--man=no", folder.PathOf(Path.GetFileName(file).Replace("@.", "@weekly.", StringComparison.Ordinal)));
            Assert.Equal((0, ""), (exitCode, output.Trim()));
        }
    }

    /// <summary>What the watch relies on, in the unit as systemd reads it: sd_notify(3), systemd.service(5), systemd.exec(5).</summary>
    [Theory]
    [InlineData("Type=notify")]
    [InlineData("ExecReload=/bin/kill -HUP $MAINPID")]
    [InlineData("WatchdogSec=30s")]
    [InlineData("Restart=on-failure")]
    [InlineData("RestartPreventExitStatus=64 65 66")]
    [InlineData("StateDirectory=statewatch")]
    [InlineData("RuntimeDirectory=statewatch")]
    [InlineData("RuntimeDirectoryMode=0700")]
    [InlineData("UMask=0077")]
    [InlineData("MemoryDenyWriteExecute=yes")]
    [InlineData("SystemCallErrorNumber=EPERM")]
    public void Watch_is_run_as_it_expects(string line) => Assert.Contains(line, File.ReadAllLines(Path.Combine(Units, "statewatch.service")));

    /// <summary>
    /// Whether the clock is synchronised the watch asks by adjtimex(2), which is in @clock and so in @privileged. Lines are merged in order, and what a later line denies is
    /// taken away from what an earlier one allowed (systemd.exec(5), SystemCallFilter=).
    /// </summary>
    [Fact]
    public void Watch_may_ask_the_kernel_for_the_clock()
    {
        var lines = File.ReadAllLines(Path.Combine(Units, "statewatch.service")).Where(static line => line.StartsWith("SystemCallFilter=", StringComparison.Ordinal)).ToList();
        Assert.Equal(["SystemCallFilter=@system-service", "SystemCallFilter=~@privileged @resources", "SystemCallFilter=adjtimex clock_adjtime"], lines);
    }

    private static async Task<(int ExitCode, string Output)> Run(params string[] arguments)
    {
        Assert.SkipUnless(File.Exists(Analyze), "systemd-analyze is not installed");
        using var process = Process.Start(new ProcessStartInfo(Analyze, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, await output + await errors);
    }
}
