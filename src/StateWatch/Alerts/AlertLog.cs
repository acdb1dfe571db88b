namespace StateWatch.Alerts;

/// <summary>What is logged of sinks. Event ids 4000 to 4099 are theirs and stay.</summary>
internal static partial class AlertLog
{
    [LoggerMessage(4001, LogLevel.Warning, "{Sink} ({Place}) did not take it: {Why}; tried again in {Wait}")]
    public static partial void Failed(this ILogger log, string sink, string place, string why, TimeSpan wait);

    [LoggerMessage(4002, LogLevel.Information, "{Sink} ({Place}) takes alerts again")]
    public static partial void Recovered(this ILogger log, string sink, string place);

    [LoggerMessage(4003, LogLevel.Error, "{Sink} ({Place}) is told nothing any more until the watch is restarted: {Why}")]
    public static partial void Stopped(this ILogger log, string sink, string place, string why);

    [LoggerMessage(4004, LogLevel.Warning, "{Sink}: the history cannot be read or written: {Why}; alerts are sent all the same")]
    public static partial void HistoryFailed(this ILogger log, string sink, string why);

    [LoggerMessage(4005, LogLevel.Error, "{Sink} ({Place}): a fault of our own; going on in {Wait}")]
    public static partial void Broke(this ILogger log, Exception problem, string sink, string place, TimeSpan wait);

    [LoggerMessage(4006, LogLevel.Warning, "{Sink}: {Count} alerts were thrown away, because too many waited")]
    public static partial void ThrewAway(this ILogger log, string sink, long count);

    [LoggerMessage(4007, LogLevel.Error, "{Sink}: put aside, because it was refused {Times} times: {Why} [{Id}]")]
    public static partial void PutAside(this ILogger log, string sink, int times, string why, string id);

    [LoggerMessage(EventId = 4010, Message = "{Desk}: {State}, {Severity}: {Text}{Advice}{By}{Recorded} [{Id}]")]
    public static partial void Told(this ILogger log, LogLevel level, string desk, string state, string severity, string text, string advice, string by, string id, string recorded);
}
