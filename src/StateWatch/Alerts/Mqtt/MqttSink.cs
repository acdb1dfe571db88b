using StateWatch.Core.Findings;
using StateWatch.Core.Records;
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
        // What an earlier try of the same alert has published is there already.
        await Keep(Findings(alert).Where(one => !_kept.Has(one.Topic, one.Payload)), cancel);
        await _connection.Publish(_topics.Events(FindingKeys.DeskOf(alert.Alert.Told.Key)), _payload.Of(alert), isRetained: false, cancel);
    }, cancel);

    /// <inheritdoc/>
    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel) => Connected(async () =>
    {
        var standing = status.Standing.Select(one => (Finding: one, Told: one.Record.Sinks.FirstOrDefault(sink => string.Equals(sink.Sink, Name, StringComparison.Ordinal)).Told))
            .Where(static one => one.Told.IsOpen)
            .ToDictionary(one => _topics.Finding(one.Finding.Record.Key), one => (Func<byte[]>)(() => _payload.Of(AsTold(status, one.Finding, one.Told))), StringComparer.Ordinal);
        await Keep(_kept.Missing(_topics.FindingsOf(status.Desk), standing), cancel);
        await _connection.Publish(_topics.State(status.Desk), _payload.Of(status), isRetained: true, cancel);
    }, cancel);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _connection.DisposeAsync();

    private async ValueTask<Delivery> Connected(Func<Task> send, CancellationToken cancel)
    {
        try
        {
            if (!_connection.IsConnected)
            {
                _kept.Begin();
                await _connection.Connect(cancel);
            }

            // As much as fits into this try; the next goes on where it ended, as long as the connection stands.
            await Keep(_kept.Stale, cancel);
            await send();
            return Delivery.Taken;
        }
        catch (LinkException problem)
        {
            // The library calls a wait that was ended a timeout.
            cancel.ThrowIfCancellationRequested();
            return new Delivery(DeliveryOutcome.Retry, problem.Message);
        }
    }

    // Some side by side: each waits for the broker's answer, and hundreds in a row would outlast any limit.
    private async Task Keep(IEnumerable<(string Topic, byte[] Payload)> messages, CancellationToken cancel)
    {
        foreach (var some in messages.Chunk(_connection.MostAtOnce))
        {
            var publishing = some.Select(one => _connection.Publish(one.Topic, one.Payload, isRetained: true, cancel)).ToArray();
            try
            {
                await Task.WhenAll(publishing);
            }
            finally
            {
                foreach (var ((topic, payload), _) in some.Zip(publishing).Where(static one => one.Second.IsCompletedSuccessfully))
                    _kept.Publish(topic, payload);
            }
        }
    }

    private IEnumerable<(string Topic, byte[] Payload)> Findings(WaitingAlert alert)
    {
        if (alert.Alert.Told.Digest is not { } lines)
            return [Finding(alert)];
        // Two lines of one finding are the end of an episode and the next one, of which the later holds.
        var last = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var line = 0; line < lines.Count; line++)
        {
            if (lines[line].Passed == 0)
                last[lines[line].Key] = line;
        }

        return last.Values.Select(line => Finding(OneOf(alert, line)));
    }

    private (string Topic, byte[] Payload) Finding(WaitingAlert alert) =>
        (_topics.Finding(alert.Alert.Told.Key), alert.Alert.Told.Level.IsOpen ? _payload.Of(alert) : []);

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
