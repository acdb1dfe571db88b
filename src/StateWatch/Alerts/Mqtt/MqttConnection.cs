using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using StateWatch.Links;

namespace StateWatch.Alerts.Mqtt;

/// <summary>One connection to a broker, made when it is needed, with a birth message and a last will on one retained topic.</summary>
internal sealed class MqttConnection : IAsyncDisposable
{
    private const string Online = "online";
    private const string Offline = "offline";
    private const int MostOfOurs = 16;
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan KeepAlive = TimeSpan.FromSeconds(15);

    private readonly MqttBroker _broker;
    private readonly MqttTopics _topics;
    private readonly SinkGuard _guard;
    private IMqttClient? _client;

    public MqttConnection(MqttBroker broker, MqttTopics topics, SinkGuard guard) => (_broker, _topics, _guard) = (broker, topics, guard);

    /// <summary>Gets the topic of each finding that the broker has retained, on a thread of the connection.</summary>
    public Action<string>? Retained { get; set; }

    /// <summary>Whether it stands.</summary>
    public bool IsConnected => _client?.IsConnected == true;

    /// <summary>How many messages may be under way at once.</summary>
    public int MostAtOnce { get; private set; } = 1;

    /// <summary>Makes it, says that we are there, and asks for what is retained: all of that, or it is not made.</summary>
    /// <exception cref="LinkException">It cannot be made.</exception>
    public async Task Connect(CancellationToken cancel)
    {
        var addresses = await _guard.Resolve(_broker.Host, _broker.Port, cancel);
        // A client whose connection broke may still be busy with that, and lets nobody connect meanwhile.
        Drop();
        _client = new MqttClientFactory().CreateMqttClient();
        _client.ApplicationMessageReceivedAsync += Receive;
        try
        {
            await Open(new IPEndPoint(addresses[0], _broker.Port), cancel);
            await Publish(_topics.Status, System.Text.Encoding.UTF8.GetBytes(Online), isRetained: true, cancel);
            await Subscribe(cancel);
        }
        catch
        {
            // Half of a connection would count as one from then on.
            Drop();
            throw;
        }
    }

    /// <summary>Publishes, and waits until the broker has taken it (QoS 1).</summary>
    /// <exception cref="LinkException">It has not.</exception>
    public async Task Publish(string topic, byte[] payload, bool isRetained, CancellationToken cancel)
    {
        var message = new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).WithRetainFlag(isRetained).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce);
        if (!_broker.IsVersion3 && payload is [(byte)'{', ..])
            message = message.WithContentType(AlertPayload.MediaType).WithPayloadFormatIndicator(MqttPayloadFormatIndicator.CharacterData);
        try
        {
            var result = await _client!.PublishAsync(message.Build(), cancel);
            if (!result.IsSuccess)
                throw Fault($"cannot publish on {topic}", Words(result.ReasonCode.ToString(), result.ReasonString), "see whether the broker lets this user write there");
        }
        catch (Exception problem) when (IsOfNetwork(problem))
        {
            throw Fault($"cannot publish on {topic}", problem.InnerException?.Message ?? problem.Message, "does the broker run?", problem);
        }
    }

    /// <summary>Says that we are gone, and goes.</summary>
    public async ValueTask DisposeAsync()
    {
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        try
        {
            if (_client is { IsConnected: true })
            {
                await Publish(_topics.Status, System.Text.Encoding.UTF8.GetBytes(Offline), isRetained: true, limit.Token);
                await _client.DisconnectAsync(new MqttClientDisconnectOptions(), limit.Token);
            }
        }
        catch (Exception problem) when (problem is LinkException or OperationCanceledException || IsOfNetwork(problem))
        {
            // The last will says it.
        }

        Drop();
    }

    private async Task Open(IPEndPoint receiver, CancellationToken cancel)
    {
        try
        {
            var result = await _client!.ConnectAsync(Options(receiver), cancel);
            if (result.ResultCode != MqttClientConnectResultCode.Success)
                throw Fault("cannot connect", Words(result.ResultCode.ToString(), result.ReasonString), "see whether user and password are those that the broker knows, and what it logs");
            // MQTT 5.0, 3.2.2.3.3: a broker may take fewer; without a word it takes 65,535.
            MostAtOnce = Math.Min(MostOfOurs, result.ReceiveMaximum is > 0 and var most ? most : MostOfOurs);
        }
        catch (Exception problem) when (IsOfNetwork(problem))
        {
            throw Fault("cannot connect", problem.InnerException?.Message ?? problem.Message, "does the broker run, and can it be reached from here? With TLS: is its certificate of that name, and who vouches for it known here (caFile)?", problem);
        }
    }

    private void Drop()
    {
        _client?.Dispose();
        _client = null;
    }

    private MqttClientOptions Options(IPEndPoint receiver)
    {
        var options = new MqttClientOptionsBuilder()
            .WithClientId(_broker.ClientId)
            .WithEndPoint(receiver)
            .WithProtocolVersion(_broker.IsVersion3 ? MqttProtocolVersion.V311 : MqttProtocolVersion.V500)
            .WithCleanStart()
            .WithTryPrivate(false)
            .WithKeepAlivePeriod(KeepAlive)
            .WithTimeout(Limit)
            // Else a try that is given up between a message's two parts leaves the second out, and the broker takes what follows for it.
            .WithoutPacketFragmentation()
            .WithWillTopic(_topics.Status)
            .WithWillPayload(Offline)
            .WithWillRetain()
            .WithWillQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce);
        if (_broker.User is not null)
            options = options.WithCredentials(_broker.User, _broker.Password);
        if (_broker.HasTls)
            options = options.WithTlsOptions(Tls);
        return options.Build();
    }

    private void Tls(MqttClientTlsOptionsBuilder tls)
    {
        tls.UseTls().WithTargetHost(_broker.Host).WithRevocationMode(X509RevocationMode.NoCheck);
        if (_broker.Trust is { } trust)
            tls.WithCertificateValidationHandler(presented => trust.Accepts(presented.Certificate, presented.Chain, presented.SslPolicyErrors));
    }

    // A broker may let us write only: then what is left from before stays, and everything else works.
    private async Task Subscribe(CancellationToken cancel)
    {
        try
        {
            await _client!.SubscribeAsync(_topics.AllFindings, MqttQualityOfServiceLevel.AtMostOnce, cancel);
        }
        catch (Exception problem) when (IsOfNetwork(problem) && IsConnected)
        {
            // Refused.
        }
    }

    private Task Receive(MqttApplicationMessageReceivedEventArgs received)
    {
        if (received.ApplicationMessage is { Retain: true, Payload.IsEmpty: false } message)
            Retained?.Invoke(message.Topic);
        return Task.CompletedTask;
    }

    private LinkException Fault(string what, string why, string advice, Exception? problem = null) => new(what, _broker.Place, why, advice, problem);

    private static string Words(string code, string? reason) => string.IsNullOrEmpty(reason) ? $"the broker answered {code}" : $"the broker answered {code}: {reason}";

    private static bool IsOfNetwork(Exception problem) =>
        problem is MqttCommunicationException or MqttProtocolViolationException or MqttClientNotConnectedException or SocketException or IOException or ObjectDisposedException or InvalidOperationException
            or System.Security.Authentication.AuthenticationException or TimeoutException;
}
