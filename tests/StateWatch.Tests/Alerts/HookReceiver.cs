using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace StateWatch.Tests.Alerts;

/// <summary>A small HTTP server of the tests' own, on loopback: takes posts whole and answers as told.</summary>
internal sealed class HookReceiver : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _end = new();
    private readonly ConcurrentQueue<HookPost> _posts = new();
    private readonly Func<HookPost, string> _answer;
    private readonly X509Certificate2? _certificate;
    private readonly Task _accepting;

    /// <summary>Listens.</summary>
    /// <param name="answer">Gives the status line and headers, such as <c>204 No Content</c>.</param>
    /// <param name="certificate">For TLS.</param>
    public HookReceiver(Func<HookPost, string> answer, X509Certificate2? certificate = null)
    {
        (_answer, _certificate) = (answer, certificate);
        _listener.Start();
        _accepting = Accept();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    public IReadOnlyList<HookPost> Posts => [.. _posts];

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        _listener.Stop();
        await _accepting;
        _end.Dispose();
    }

    private async Task Accept()
    {
        var serving = new List<Task>();
        try
        {
            while (true)
                serving.Add(Serve(await _listener.AcceptTcpClientAsync(_end.Token)));
        }
        catch (Exception problem) when (problem is OperationCanceledException or SocketException or InvalidOperationException)
        {
            await Task.WhenAll(serving);
        }
    }

    private async Task Serve(TcpClient client)
    {
        using (client)
        {
            try
            {
                await using Stream stream = _certificate is null ? client.GetStream() : new SslStream(client.GetStream());
                if (stream is SslStream secure)
                    await secure.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificate = _certificate }, _end.Token);
                while (await Read(stream) is { } post)
                {
                    _posts.Enqueue(post);
                    await stream.WriteAsync(Encoding.ASCII.GetBytes($"HTTP/1.1 {_answer(post)}\r\nContent-Length: 0\r\n\r\n"), _end.Token);
                }
            }
            catch (Exception problem) when (problem is IOException or OperationCanceledException or System.Security.Authentication.AuthenticationException)
            {
                // The other end went away.
            }
        }
    }

    private async Task<HookPost?> Read(Stream stream)
    {
        var head = new List<byte>();
        var one = new byte[1];
        while (!(head.Count >= 4 && head[^4] == '\r' && head[^3] == '\n' && head[^2] == '\r' && head[^1] == '\n'))
        {
            if (await stream.ReadAsync(one, _end.Token) == 0)
                return null;
            head.Add(one[0]);
        }

        var lines = Encoding.ASCII.GetString([.. head]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var headers = lines[1..].Select(line => line.Split(": ", 2)).ToDictionary(pair => pair[0], pair => pair[1], StringComparer.OrdinalIgnoreCase);
        var body = new byte[int.Parse(headers["Content-Length"], CultureInfo.InvariantCulture)];
        await stream.ReadExactlyAsync(body, _end.Token);
        return new HookPost(lines[0], headers, body);
    }
}

/// <summary>One post as it came in.</summary>
internal sealed record HookPost(string Request, IReadOnlyDictionary<string, string> Headers, byte[] Body)
{
    public string Text(string key)
    {
        using var json = System.Text.Json.JsonDocument.Parse(Body);
        return json.RootElement.GetProperty(key).GetString()!;
    }
}
