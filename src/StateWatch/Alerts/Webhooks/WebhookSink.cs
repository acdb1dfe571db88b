using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Links;

namespace StateWatch.Alerts.Webhooks;

/// <summary>
/// Posts alerts and beats, signed, to one address. 2xx is success; 410 stops it; 400, 413 and 422 say that this one is wrong; everything else is tried again, 429 and 503
/// no sooner than their Retry-After says. It follows no redirect, uses no proxy, keeps no cookies and reads no answer.
/// </summary>
internal sealed class WebhookSink : IAlertSink
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(10);

    // Names are looked up again, and the guard is asked again, at least this often.
    private static readonly TimeSpan ConnectionAge = TimeSpan.FromMinutes(2);

    private readonly Uri _url;
    private readonly WebhookSigner _signer;
    private readonly AlertPayload _payload;
    private readonly SinkGuard _guard;
    private readonly TimeProvider _clock;
    private readonly HttpClient _client;

    /// <summary>Prepares it; nothing is sent yet.</summary>
    /// <param name="name">Its name in the settings.</param>
    /// <param name="url">Where to post to.</param>
    /// <param name="signer">Signs.</param>
    /// <param name="payload">Writes.</param>
    /// <param name="guard">Finds the receiver.</param>
    /// <param name="clock">The time.</param>
    /// <param name="token">What the receiver asks for, or null.</param>
    /// <param name="trust">Who may vouch for the receiver; null for those whom the system trusts.</param>
    public WebhookSink(string name, Uri url, WebhookSigner signer, AlertPayload payload, SinkGuard guard, TimeProvider clock, string? token, CertificateTrust? trust)
    {
        Name = name;
        (_url, _signer, _payload, _guard, _clock) = (url, signer, payload, guard, clock);
        var handler = new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = false,
            UseProxy = false,
            ConnectTimeout = Limit,
            PooledConnectionLifetime = ConnectionAge,
            MaxConnectionsPerServer = 1,
            ConnectCallback = Connect,
        };
        handler.SslOptions.CertificateChainPolicy = trust?.Policy();
        _client = new HttpClient(handler) { Timeout = Timeout.InfiniteTimeSpan };
        _client.DefaultRequestHeaders.UserAgent.Add(new ProductInfoHeaderValue("StateWatch", null));
        if (token is not null)
            _client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public string Place => $"webhook {_url.GetLeftPart(UriPartial.Path)}";

    /// <inheritdoc/>
    public ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel) =>
        Post(WebhookSigner.IdOf(AlertPayload.SourceOf(FindingKeys.DeskOf(alert.Alert.Told.Key)), AlertPayload.IdOf(alert)), _payload.Of(alert), cancel);

    /// <inheritdoc/>
    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel) =>
        Post(WebhookSigner.IdOf(AlertPayload.SourceOf(status.Desk), AlertPayload.IdOf(status)), _payload.Of(status), cancel);

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        return ValueTask.CompletedTask;
    }

    private async ValueTask<Delivery> Post(string id, byte[] body, CancellationToken cancel)
    {
        var now = _clock.GetUtcNow();
        using var request = new HttpRequestMessage(HttpMethod.Post, _url) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(AlertPayload.MediaType, "utf-8");
        request.Headers.Add("webhook-id", id);
        request.Headers.Add("webhook-timestamp", WebhookSigner.Seconds(now));
        request.Headers.Add("webhook-signature", _signer.Sign(id, now, body));
        using var limit = new CancellationTokenSource(Limit, _clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancel);
        try
        {
            using var answer = await _client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, either.Token);
            return Judge(answer);
        }
        catch (OperationCanceledException) when (limit.IsCancellationRequested && !cancel.IsCancellationRequested)
        {
            return Retry($"no answer within {Limit.TotalSeconds:0} s");
        }
        catch (HttpRequestException problem)
        {
            return Retry(ReasonOf(problem));
        }
    }

    private Delivery Judge(HttpResponseMessage answer)
    {
        var status = $"{(int)answer.StatusCode} {answer.StatusCode}";
        return answer.StatusCode switch
        {
            _ when answer.IsSuccessStatusCode => Delivery.Taken,
            HttpStatusCode.Gone => new Delivery(DeliveryOutcome.Stop, $"{Place} answered {status}: it wants no more alerts"),
            >= HttpStatusCode.Ambiguous and < HttpStatusCode.BadRequest => Retry($"answered {status}, and redirects are not followed; write the receiver's real address as url"),
            HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden => Retry($"answered {status}; see whether secret and token are those that the receiver knows"),
            HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable => Retry($"answered {status}", After(answer)),
            HttpStatusCode.BadRequest or HttpStatusCode.RequestEntityTooLarge or HttpStatusCode.UnprocessableEntity => new Delivery(DeliveryOutcome.Refused, $"{Place}: answered {status}"),
            _ => Retry($"answered {status}"),
        };
    }

    // RFC 9110, 10.2.3: a number of seconds, or a date.
    private TimeSpan? After(HttpResponseMessage answer) => answer.Headers.RetryAfter switch
    {
        { Delta: { } span } => span,
        { Date: { } date } => date - _clock.GetUtcNow() is var left && left > TimeSpan.Zero ? left : TimeSpan.Zero,
        _ => null,
    };

    private Delivery Retry(string why, TimeSpan? after = null) => new(DeliveryOutcome.Retry, $"{Place}: {why}", after);

    private static string ReasonOf(HttpRequestException problem) => problem switch
    {
        { InnerException: LinkException link } => link.Message,
        { HttpRequestError: HttpRequestError.SecureConnectionError } => $"no secure connection: {problem.InnerException?.Message ?? problem.Message}; is the certificate of that name, and who vouches for it known here (caFile)?",
        { InnerException: SocketException socket } => $"cannot connect: {socket.SocketErrorCode}; does the receiver run, and can it be reached from here?",
        _ => problem.InnerException?.Message ?? problem.Message,
    };

    private async ValueTask<Stream> Connect(SocketsHttpConnectionContext context, CancellationToken cancel)
    {
        var addresses = await _guard.Resolve(context.DnsEndPoint.Host.Trim('[', ']'), context.DnsEndPoint.Port, cancel);
        return await FirstAddress.Of(addresses, async (address, limit) =>
        {
            var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
            try
            {
                await socket.ConnectAsync(address, context.DnsEndPoint.Port, limit);
                return (Stream)new NetworkStream(socket, ownsSocket: true);
            }
            catch
            {
                socket.Dispose();
                throw;
            }
        }, _clock, cancel);
    }
}
