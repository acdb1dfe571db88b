using System.Diagnostics;

namespace StateWatch.Tests.Support;

/// <summary><c>statewatch simulate</c> on a free port, ended with the test.</summary>
internal sealed class VirtualDeskProcess : IDisposable
{
    private readonly Process _process;

    private VirtualDeskProcess(Process process, string address)
    {
        _process = process;
        Address = address;
    }

    public string Address { get; }

    public static async Task<VirtualDeskProcess> Start(string file, params string[] options)
    {
        var process = StatewatchProcess.Start(["simulate", file, "--port", "0", "--seconds", "60", .. options]);
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        var line = await process.StandardOutput.ReadLineAsync(limit.Token);
        if (line is null)
            Assert.Fail(await process.StandardError.ReadToEndAsync(limit.Token));
        const string Lead = " answers at ";
        var address = line[(line.IndexOf(Lead, StringComparison.Ordinal) + Lead.Length)..];
        return new VirtualDeskProcess(process, address[..address.IndexOf(". ", StringComparison.Ordinal)]);
    }

    public void Dispose()
    {
        if (!_process.HasExited)
            _process.Kill();
        _process.Dispose();
    }
}
