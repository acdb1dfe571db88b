using System.Diagnostics;
using Microsoft.Extensions.Hosting.Systemd;

namespace StateWatch.Hosting;

/// <summary>What the service tells the manager that started it (sd_notify(3)); nothing when none did.</summary>
internal sealed class SystemNotices(ISystemdNotifier notifier)
{
    private string _status = "";

    /// <summary>Everything turns.</summary>
    public void Ready() => Send("READY=1");

    /// <summary>Plans are read anew; <see cref="Ready"/> ends it. The moment says to the manager which request it answers.</summary>
    public void Reloading() =>
        Send($"RELOADING=1\nMONOTONIC_USEC={(long)(Stopwatch.GetTimestamp() / (Stopwatch.Frequency / 1_000_000.0))}");

    /// <summary>It ends in order.</summary>
    public void Stopping() => Send("STOPPING=1");

    /// <summary>It is alive.</summary>
    public void Alive() => Send("WATCHDOG=1");

    /// <summary>One line for people, sent when it is another one than before.</summary>
    public void Status(string line)
    {
        if (line == _status)
            return;
        _status = line;
        Send($"STATUS={line}");
    }

    private void Send(string state)
    {
        try
        {
            if (notifier.IsEnabled)
                notifier.Notify(new ServiceState(state));
        }
        catch (System.Net.Sockets.SocketException)
        {
            // A manager that cannot be told goes by its own time-outs.
        }
    }
}
