using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>A PostgreSQL server of its own for these tests: a new cluster in a scratch folder, on loopback only, ended with the tests.</summary>
public sealed class PostgresServer : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly bool _asPostgres = Environment.IsPrivilegedProcess;
    private Process? _server;
    private int _databases;

    public PostgresServer()
    {
        var bin = Directory.Exists("/usr/lib/postgresql") ? Directory.GetDirectories("/usr/lib/postgresql").Select(static version => Path.Combine(version, "bin")).LastOrDefault(static bin => File.Exists(Path.Combine(bin, "initdb"))) : null;
        if (bin is null)
        {
            Missing = "PostgreSQL is not installed; apt-get install postgresql";
            return;
        }

        try
        {
            Start(bin);
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Why there is none; null when it runs.</summary>
    public string? Missing { get; }

    private int Port { get; set; }

    /// <summary>Makes a new database and says how to reach it.</summary>
    public string NewDatabase()
    {
        var name = $"history_{++_databases}";
        using var connection = new Npgsql.NpgsqlConnection(Connection("postgres"));
        connection.Open();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Made above.
        command.CommandText = $"CREATE DATABASE {name} ENCODING 'UTF8' TEMPLATE template0 LOCALE 'C'";
#pragma warning restore CA2100
        command.ExecuteNonQuery();
        return Connection(name);
    }

    public void Dispose()
    {
        if (_server is { HasExited: false })
        {
            // SIGINT is its fast shutdown; SIGQUIT of an own child would do too, but leaves no time to write.
            using (var kill = Process.Start("kill", ["-INT", $"{PostmasterId()}"]))
                kill.WaitForExit();
            if (!_server.WaitForExit(TimeSpan.FromSeconds(20)))
                _server.Kill(entireProcessTree: true);
        }

        _server?.Dispose();
        _folder.Dispose();
    }

    private string Connection(string database) => $"Host=127.0.0.1;Port={Port};Username=watch;Database={database};Pooling=false;Timeout=10";

    private int PostmasterId() => int.Parse(File.ReadLines(Path.Combine(_folder.PathOf("data"), "postmaster.pid")).First(), System.Globalization.CultureInfo.InvariantCulture);

    private void Start(string bin)
    {
        var data = _folder.PathOf("data");
        Directory.CreateDirectory(data);
        if (_asPostgres)
        {
            // The server refuses to run as root; its own user must reach its folder.
            Run("chmod", "711", Path.GetDirectoryName(data)!);
            Run("chown", "postgres", data);
        }

        Run("chmod", "700", data);
        Run([.. As(), Path.Combine(bin, "initdb"), "--pgdata", data, "--username", "watch", "--auth", "trust", "--encoding", "UTF8", "--no-locale", "--no-sync"]);
        Port = FreePort();
        _server = Begin([.. As(), Path.Combine(bin, "postgres"), "-D", data, "-p", $"{Port}", "-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories=", "-c", "fsync=off", "-c", "logging_collector=off"]);
        _server.ErrorDataReceived += static (_, _) => { };
        _server.OutputDataReceived += static (_, _) => { };
        _server.BeginErrorReadLine();
        _server.BeginOutputReadLine();
        var until = Stopwatch.GetTimestamp() + (30 * Stopwatch.Frequency);
        while (!Answers())
        {
            if (_server.HasExited || Stopwatch.GetTimestamp() > until)
                throw new InvalidOperationException("PostgreSQL did not start");
            Thread.Sleep(50);
        }
    }

    private bool Answers()
    {
        try
        {
            using var connection = new Npgsql.NpgsqlConnection(Connection("postgres"));
            connection.Open();
            return true;
        }
        catch (Npgsql.NpgsqlException)
        {
            return false;
        }
    }

    private string[] As() => _asPostgres ? ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"] : [];

    private static void Run(params string[] command)
    {
        using var process = Begin(command);
        var output = process.StandardOutput.ReadToEndAsync();
        var errors = process.StandardError.ReadToEnd();
        process.WaitForExit();
        _ = output.Result;
        if (process.ExitCode != 0)
            throw new InvalidOperationException($"{string.Join(' ', command)}: {errors}");
    }

    private static Process Begin(string[] command)
    {
        var start = new ProcessStartInfo(command[0]) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = "/" };
        foreach (var argument in command[1..])
            start.ArgumentList.Add(argument);
        return Process.Start(start)!;
    }

    private static int FreePort()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}
