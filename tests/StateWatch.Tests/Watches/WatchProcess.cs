using System.Diagnostics;
using System.Text;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Watches;

/// <summary><c>statewatch watch</c> as a process that is killed, and begun anew with the same settings.</summary>
internal sealed class WatchProcess : IDisposable
{
    private readonly Process _process;
    private readonly StringBuilder _said = new();

    public WatchProcess(string settings)
    {
        _process = StatewatchProcess.Start("watch", "--settings", settings);
        _process.OutputDataReceived += Hear;
        _process.ErrorDataReceived += Hear;
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    public bool HasEnded => _process.HasExited;

    /// <summary>What it has said so far, on both streams.</summary>
    public string Said
    {
        get
        {
            lock (_said)
                return _said.ToString();
        }
    }

    /// <summary>Whether it said that it is ready.</summary>
    public bool IsReady => Said.Contains("Ready: every desk's loop", StringComparison.Ordinal);

    /// <summary>SIGKILL, by process id.</summary>
    public async Task Kill()
    {
        if (!_process.HasExited)
            _process.Kill();
        await _process.WaitForExitAsync();
    }

    public void Dispose()
    {
        if (!_process.HasExited)
            _process.Kill();
        _process.Dispose();
    }

    private void Hear(object sender, DataReceivedEventArgs line)
    {
        lock (_said)
            _said.AppendLine(line.Data);
    }
}
