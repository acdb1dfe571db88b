using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>Writes each alert as one line into the log. It takes everything; beats it has no use for.</summary>
internal sealed class LogSink(string name, ILogger log) : IAlertSink
{
    /// <inheritdoc/>
    public string Name { get; } = name;

    /// <inheritdoc/>
    public string Place => "the log";

    /// <inheritdoc/>
    public ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel)
    {
        var told = alert.Alert.Told;
        var level = LevelOf(told);
        if (!log.IsEnabled(level))
            return ValueTask.FromResult(Delivery.Taken);
        var state = told.Digest is null ? AlertWording.Word(told.Level.Kind) : "digest";
        var text = AlertWording.Text(alert.Alert, NameHiding.None);
        var does = told.Level.IsNews && alert.Alert.Words is { Do.Length: > 0 } words ? (text is [.., '.' or '!' or '?'] ? " " : ". ") + NameHiding.None.Hide(words.Do, words) : "";
        var by = told.By is null ? "" : $" (by {NameHiding.None.Person(told.By)}{(told.Why is null ? "" : ", " + NameHiding.None.Reason(told.Why))})";
        log.Told(level, FindingKeys.DeskOf(told.Key), state, told.Level.Severity.Word(), text, does, by, AlertPayload.IdOf(alert),
            alert.Unrecorded > 0 ? " (not recorded)" : "");
        return ValueTask.FromResult(Delivery.Taken);
    }

    /// <inheritdoc/>
    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel) => ValueTask.FromResult(Delivery.Taken);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static LogLevel LevelOf(Announcement told) => told.Level switch
    {
        { IsNews: true, Kind: not LevelKind.Acknowledged, Severity: Severity.Urgent } => LogLevel.Error,
        { IsNews: true, Kind: not LevelKind.Acknowledged, Severity: Severity.Warning } => LogLevel.Warning,
        _ when told.Digest?.Any(static line => line is { Passed: 0, Level.IsNews: true, Severity: Severity.Urgent }) == true => LogLevel.Error,
        _ => LogLevel.Information,
    };
}
