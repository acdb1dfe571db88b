using System.Net.Sockets;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using StateWatch.Commands;
using StateWatch.Hosting.Settings;

namespace StateWatch.Control;

/// <summary>Talks to a watch that runs on this machine.</summary>
internal sealed class ControlClient : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly HttpClient _http;
    private readonly string _socket;

    private ControlClient(string socket)
    {
        _socket = socket;
        var handler = new SocketsHttpHandler
        {
            UseProxy = false,
            AllowAutoRedirect = false,
            ConnectCallback = async (_, cancel) =>
            {
                var connection = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
                try
                {
                    await connection.ConnectAsync(new UnixDomainSocketEndPoint(socket), cancel);
                    return new NetworkStream(connection, ownsSocket: true);
                }
                catch
                {
                    connection.Dispose();
                    throw;
                }
            },
        };
        _http = new HttpClient(handler) { BaseAddress = new Uri("http://statewatch/"), Timeout = Patience };
    }

    /// <summary>Opens it.</summary>
    /// <param name="socket">The socket, or null for the usual places.</param>
    /// <exception cref="CommandException">No watch runs here (exit 69).</exception>
    public static ControlClient Open(string? socket)
    {
        string[] places = socket is not null ? [Path.GetFullPath(socket)] : [.. new SystemFolders(Environment.GetEnvironmentVariables()).Sockets];
        var refused = false;
        foreach (var place in places)
        {
            try
            {
                using var trial = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
                trial.Connect(new UnixDomainSocketEndPoint(place));
                return new ControlClient(place);
            }
            catch (SocketException problem)
            {
                refused |= problem.SocketErrorCode == SocketError.AccessDenied;
            }
            catch (ArgumentOutOfRangeException)
            {
                throw new CommandException(ExitCodes.Usage, $"statewatch: {place}: this path is too long for a socket; is it the right one?");
            }
        }

        throw new CommandException(ExitCodes.Unavailable, refused
            ? $"statewatch: this user may not talk to the watch at {string.Join(" or ", places)}; try it with sudo, or as the user of the watch."
            : $"statewatch: no watch answers at {string.Join(" or ", places)}; start one ('statewatch watch PLAN', or 'systemctl start statewatch'), or say where its socket is with --socket.");
    }

    /// <summary>How everything stands.</summary>
    public StatusReport Status(string? desk) =>
        Send(HttpMethod.Get, desk is null ? ControlRoutes.Status : $"{ControlRoutes.Status}?desk={Uri.EscapeDataString(desk)}", null, ControlJson.Default.StatusReport, isOrder: false);

    /// <summary>Orders something.</summary>
    public OrderAnswer Order(string path, OrderRequest request) => Send(HttpMethod.Post, path, request, ControlJson.Default.OrderAnswer, isOrder: true);

    public void Dispose() => _http.Dispose();

    private T Send<T>(HttpMethod method, string path, OrderRequest? request, JsonTypeInfo<T> type, bool isOrder)
    {
        try
        {
            using var message = new HttpRequestMessage(method, path);
            if (request is not null)
            {
                var bytes = JsonSerializer.SerializeToUtf8Bytes(request, ControlJson.Default.OrderRequest);
                message.Content = new ByteArrayContent(bytes);
                message.Content.Headers.ContentType = new("application/json");
            }

            using var response = _http.Send(message);
            if (response.StatusCode == System.Net.HttpStatusCode.RequestEntityTooLarge)
                throw new CommandException(ExitCodes.Usage, "statewatch: this is more text than the watch takes; say it in fewer words.");
            using var body = response.Content.ReadAsStream();
            if (isOrder || response.IsSuccessStatusCode)
                return JsonSerializer.Deserialize(body, type) ?? throw new JsonException();
            var refusal = JsonSerializer.Deserialize(body, ControlJson.Default.OrderAnswer);
            throw new CommandException(ExitCodes.Usage, $"statewatch: {string.Join(' ', refusal?.Lines ?? [])}");
        }
        catch (Exception problem) when (problem is HttpRequestException or IOException or JsonException or TaskCanceledException)
        {
            throw new CommandException(ExitCodes.Unavailable, $"statewatch: the watch at {_socket} did not answer ({problem.GetType().Name}); is it being stopped? Try again, or look at its log.");
        }
    }
}
