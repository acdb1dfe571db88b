using System.Collections;

namespace StateWatch.Hosting.Settings;

/// <summary>Where the system wants things to be: systemd says so by variables, a desktop by the XDG base directories.</summary>
internal sealed class SystemFolders(IDictionary environment)
{
    /// <summary>The name of the socket.</summary>
    public const string SocketName = "control.sock";

    /// <summary>What must survive.</summary>
    public string State => First("STATE_DIRECTORY") ?? Below("XDG_STATE_HOME") ?? Path.Combine(First("HOME") ?? Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "state", "statewatch");

    /// <summary>Log files, or null for none.</summary>
    public string? Logs => First("LOGS_DIRECTORY");

    /// <summary>The socket of a watch that is started here; never in a folder where anybody may write, and so answer in its place.</summary>
    public string Socket => Path.Combine(Runtime ?? State, SocketName);

    /// <summary>Where a running watch may have its socket, likeliest first: without a folder of its own the session is likely that of sudo, which asks the service.</summary>
    public IEnumerable<string> Sockets
    {
        get
        {
            var service = $"/run/statewatch/{SocketName}";
            return (Runtime is null ? new[] { service, Socket } : [Socket, service]).Distinct(StringComparer.Ordinal);
        }
    }

    private string? Runtime => First("RUNTIME_DIRECTORY") ?? Below("XDG_RUNTIME_DIR");

    private string? Below(string variable) => First(variable) is { } folder ? Path.Combine(folder, "statewatch") : null;

    // systemd parts several folders by colons; the first is the unit's own.
    private string? First(string variable) => environment[variable] is string { Length: > 0 } value ? value.Split(':')[0] : null;
}
