using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Links;

namespace StateWatch.Alerts.Mqtt;

/// <summary>
/// Publishes alerts to a broker, each twice: retained under the finding's own topic until it is cleared, so that a page or lamp that connects
/// at any time sees what stands without having listened; and once, in order, under the desk's event topic, for whoever logs or calls people. A
/// cleared finding is an empty retained message there (which removes it) and an event that says so.
/// </summary>
internal sealed class MqttSink : IAlertSink
{
    private readonly MqttBroker _broker;
    private readonly MqttTopics _topics;
    private readonly AlertPayload _payload;
    private readonly MqttConnection _connection;
    private readonly KeptFindings _kept = new();

    /// <summary>Prepares it; it connects when there is something to send.</summary>
    /// <param name="name">Its name in the settings.</param>
    /// <param name="broker">The broker.</param>
    /// <param name="topics">The topics.</param>
    /// <param name="payload">Writes.</param>
    /// <param name="guard">Finds the broker.</param>
    public MqttSink(string name, MqttBroker broker, MqttTopics topics, AlertPayload payload, SinkGuard guard)
    {
        Name = name;
        (_broker, _topics, _payload) = (broker, topics, payload);
        _connection = new MqttConnection(broker, topics, guard) { Retained = _kept.Find };
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public string Place => _broker.Place;

    /// <inheritdoc/>
    public bool ShowsState => true;

    /// <inheritdoc/>
    public ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel) => Connected(async () =>
    {
        var told = alert.Alert.Told;
        if (told.Digest is null)
            await Keep(alert, cancel);
        for (var line = 0; line < (told.Digest?.Count ?? 0); line++)
        {
            if (told.Digest![line].Passed == 0)
                await Keep(OneOf(alert, line), cancel);
        }

        await _connection.Publish(_topics.Events(AlertKeys.DeskOf(told.Key)), _payload.Of(alert), isRetained: false, cancel);
    }, cancel);

    /// <inheritdoc/>
    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel) => Connected(async () =>
    {
        var standing = status.Standing.Select(one => (Finding: one, Told: one.Record.Sinks.FirstOrDefault(sink => string.Equals(sink.Sink, Name, StringComparison.Ordinal)).Told))
            .Where(static one => one.Told.IsOpen)
            .ToDictionary(one => _topics.Finding(one.Finding.Record.Key), one => (Func<byte[]>)(() => _payload.Of(AsTold(status, one.Finding, one.Told))), StringComparer.Ordinal);
        foreach (var (topic, payload) in _kept.Missing(_topics.FindingsOf(status.Desk), standing))
        {
            await _connection.Publish(topic, payload, isRetained: true, cancel);
            _kept.Publish(topic, payload);
        }

        await _connection.Publish(_topics.State(status.Desk), _payload.Of(status), isRetained: true, cancel);
    }, cancel);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _connection.DisposeAsync();

    private async ValueTask<Delivery> Connected(Func<Task> send, CancellationToken cancel)
    {
        try
        {
            if (!_connection.IsConnected)
                await Connect(cancel);
            await send();
            return Delivery.Taken;
        }
        catch (LinkException problem)
        {
            return new Delivery(DeliveryOutcome.Retry, problem.Message);
        }
    }

    private async Task Connect(CancellationToken cancel)
    {
        _kept.Forget();
        await _connection.Connect(cancel);
        foreach (var (topic, payload) in _kept.Published)
            await _connection.Publish(topic, payload, isRetained: true, cancel);
    }

    private async Task Keep(WaitingAlert alert, CancellationToken cancel)
    {
        var topic = _topics.Finding(alert.Alert.Told.Key);
        var payload = alert.Alert.Told.Level.IsOpen ? _payload.Of(alert) : [];
        await _connection.Publish(topic, payload, isRetained: true, cancel);
        _kept.Publish(topic, payload);
    }

    private static WaitingAlert OneOf(WaitingAlert digest, int number)
    {
        var (alert, line) = (digest.Alert, digest.Alert.Told.Digest![number]);
        return digest with { Alert = alert with { Told = alert.Told with { Key = line.Key, Level = line.Level, Condition = line.Level.IsOpen ? Condition.Active : Condition.Normal, Digest = null }, Words = AlertWording.WordsOf(alert, number), DigestWords = [] } };
    }

    private WaitingAlert AsTold(DeskStatus status, StoredFinding finding, Level told)
    {
        var raised = finding.Record.RaisedAt ?? status.At.Wall;
        return new WaitingAlert(0, new Alert(new Announcement(Name, finding.Record.Key, told, finding.Record.Condition, status.At with { Wall = raised }), status.Show, status.Phase, status.Cue) { Words = finding.Words }, 0);
    }
}
