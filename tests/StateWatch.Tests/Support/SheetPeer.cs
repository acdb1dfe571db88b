using System.Diagnostics;
using System.Globalization;

namespace StateWatch.Tests.Support;

/// <summary>A desk made of its protocol sheet, in Python: literal bytes only, nothing shared with our codec.</summary>
internal sealed class SheetPeer : IDisposable
{
    private readonly Process _process;

    private SheetPeer(Process process, int port, string log)
    {
        _process = process;
        Port = port;
        Log = log;
    }

    public int Port { get; }

    /// <summary>The file with every datagram it received, in hex.</summary>
    public string Log { get; }

    public static bool IsPossible
    {
        get
        {
            try
            {
                using var python = Process.Start(new ProcessStartInfo("python3", "--version") { UseShellExecute = false, RedirectStandardOutput = true });
                python!.WaitForExit();
                return python.ExitCode == 0;
            }
            catch (System.ComponentModel.Win32Exception)
            {
                return false;
            }
        }
    }

    public static Task<SheetPeer> Start(params string[] wrong) => StartDesk("larch-48", wrong);

    public static async Task<SheetPeer> StartDesk(string desk, params string[] wrong)
    {
        Assert.SkipUnless(IsPossible, "python3 is not installed; the protocol sheet is served by a Python peer");
        var log = Path.Combine(Path.GetTempPath(), $"statewatch-peer-{Guid.NewGuid():N}.log");
        var start = new ProcessStartInfo("python3") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardInput = true };
        foreach (var arg in (string[])[Path.Combine(AppContext.BaseDirectory, "Peers", "sheet_peer.py"), ShippedFiles.SheetOf(desk), "--log", log, "--seconds", "60", .. wrong.SelectMany(item => new[] { "--wrong", item })])
            start.ArgumentList.Add(arg);
        var process = Process.Start(start)!;
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        var ready = await process.StandardOutput.ReadLineAsync(limit.Token) ?? "";
        Assert.StartsWith("READY ", ready, StringComparison.Ordinal);
        return new SheetPeer(process, int.Parse(ready.AsSpan("READY ".Length), CultureInfo.InvariantCulture), log);
    }

    public void Dispose()
    {
        _process.StandardInput.Close();
        if (!_process.WaitForExit(10_000))
            _process.Kill();
        _process.Dispose();
        File.Delete(Log);
    }
}
