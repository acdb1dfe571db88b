using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Threading.Channels;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>A real broker on loopback with a configuration of its own, and its own clients as independent ears. It keeps nothing over a restart.</summary>
internal sealed class Mosquitto : IAsyncDisposable
{
    private const string Broker = "/usr/sbin/mosquitto";
    private const string Sub = "/usr/bin/mosquitto_sub";
    private const string Pub = "/usr/bin/mosquitto_pub";
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);

    private readonly ScratchFolder _folder = new();
    private readonly string _config;
    private readonly string[] _clientOptions;
    private readonly List<Ear> _ears = [];
    private Process? _process;

    private Mosquitto(Func<ScratchFolder, string> config, string[] clientOptions)
    {
        Port = FreePort();
        var user = Environment.UserName == "root" ? "user root\n" : "";
        _config = _folder.Write("broker.conf", $"listener {Port} 127.0.0.1\npersistence false\nlog_dest stderr\n{user}{config(_folder)}");
        _clientOptions = ["-h", "127.0.0.1", "-p", $"{Port}", .. clientOptions];
    }

    public int Port { get; }

    /// <summary>Whether there is one here.</summary>
    public static bool IsPossible => File.Exists(Broker) && File.Exists(Sub);

    /// <summary>Starts one, or skips the test where there is none.</summary>
    public static async Task<Mosquitto> Start(Func<ScratchFolder, string>? config = null, params string[] clientOptions)
    {
        Assert.SkipUnless(IsPossible, "mosquitto and mosquitto-clients are not installed; they are the broker and the ears of these tests");
        for (var left = 5; ; left--)
        {
            var broker = new Mosquitto(config ?? (static _ => "allow_anonymous true\n"), clientOptions);
            try
            {
                await broker.Begin();
                return broker;
            }
            catch (InvalidOperationException) when (left > 0)
            {
                // Somebody else took the port meanwhile.
                await broker.DisposeAsync();
            }
        }
    }

    /// <summary>Begins, or begins anew after <see cref="Kill"/>.</summary>
    public async Task Begin()
    {
        _process = Process.Start(new ProcessStartInfo(Broker, ["-c", _config]) { UseShellExecute = false, RedirectStandardError = true })!;
        var running = new TaskCompletionSource();
        var log = new StringBuilder();
        _process.ErrorDataReceived += (_, line) =>
        {
            log.AppendLine(line.Data);
            if (line.Data?.EndsWith(" running", StringComparison.Ordinal) == true)
                running.TrySetResult();
            else if (line.Data is null)
                running.TrySetException(new InvalidOperationException($"the broker ended: {log}"));
        };
        _process.BeginErrorReadLine();
        await running.Task.WaitAsync(Ceiling, TestContext.Current.CancellationToken);
    }

    /// <summary>Kills it.</summary>
    public async Task Kill()
    {
        if (_process is null)
            return;
        _process.Kill();
        await _process.WaitForExitAsync(TestContext.Current.CancellationToken);
        _process.Dispose();
        _process = null;
    }

    /// <summary>Listens from now on.</summary>
    public async Task<Ear> Listen(string topic)
    {
        await Publish("ear/ready", "now", isRetained: true);
        var ear = new Ear(Process.Start(new ProcessStartInfo(Sub, [.. _clientOptions, "-q", "1", "-t", topic, "-t", "ear/#", "-F", "%r %t %p"]) { UseShellExecute = false, RedirectStandardOutput = true })!);
        _ears.Add(ear);
        await ear.Until("1 ear/ready now");
        return ear;
    }

    /// <summary>Everything that is retained, as <c>topic payload</c>.</summary>
    public async Task<IReadOnlyDictionary<string, string>> Retained(string topic)
    {
        var ear = await Listen(topic);
        // Retained messages come before whatever is published after the subscription.
        await Publish("ear/end", "now");
        await ear.Until("0 ear/end now");
        return ear.Heard.Where(line => line.StartsWith("1 ", StringComparison.Ordinal) && !line.StartsWith("1 ear/", StringComparison.Ordinal))
            .Select(line => line.Split(' ', 3)).ToDictionary(parts => parts[1], parts => parts[2], StringComparer.Ordinal);
    }

    /// <summary>Publishes by the broker's own client.</summary>
    public async Task Publish(string topic, string payload, bool isRetained = false)
    {
        string[] retain = isRetained ? ["-r"] : [];
        using var process = Process.Start(new ProcessStartInfo(Pub, [.. _clientOptions, "-q", "1", "-t", topic, "-m", payload, .. retain]) { UseShellExecute = false })!;
        using var limit = new CancellationTokenSource(Ceiling);
        await process.WaitForExitAsync(limit.Token);
        Assert.Equal(0, process.ExitCode);
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var ear in _ears)
            ear.Dispose();
        await Kill();
        _folder.Dispose();
    }

    private static int FreePort()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}

/// <summary>One who listens at a broker: lines of <c>retained topic payload</c>.</summary>
internal sealed class Ear : IDisposable
{
    private readonly Process _process;
    private readonly Channel<string> _lines = Channel.CreateUnbounded<string>();

    public Ear(Process process)
    {
        _process = process;
        process.OutputDataReceived += (_, line) => _lines.Writer.TryWrite(line.Data ?? "");
        process.BeginOutputReadLine();
    }

    /// <summary>What was heard so far.</summary>
    public List<string> Heard { get; } = [];

    /// <summary>Waits for the next line that begins so.</summary>
    public async Task<string> Until(string begins)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        limit.CancelAfter(TimeSpan.FromSeconds(30));
        try
        {
            while (true)
            {
                var line = await _lines.Reader.ReadAsync(limit.Token);
                Heard.Add(line);
                if (line.StartsWith(begins, StringComparison.Ordinal))
                    return line;
            }
        }
        catch (OperationCanceledException problem)
        {
            throw new TimeoutException($"'{begins}' was not heard; heard was: {string.Join(" | ", Heard)}", problem);
        }
    }

    public void Dispose()
    {
        if (!_process.HasExited)
            _process.Kill();
        _process.Dispose();
    }
}
