namespace StateWatch.Hosting;

/// <summary>Everything the service logs, with event ids that stay the same for ever: 1000 and up of the service, 2000 of the history, 4000 of sinks (AlertLog).</summary>
internal static partial class LogEvents
{
    [LoggerMessage(1000, LogLevel.Information, "Watching {Desks} at {Site}; history in {History}, control at {Socket}")]
    public static partial void Started(this ILogger log, string desks, string site, string history, string socket);

    [LoggerMessage(1001, LogLevel.Information, "Ready: every desk's loop has come round and the control socket stands")]
    public static partial void Ready(this ILogger log);

    [LoggerMessage(1002, LogLevel.Information, "Stopping, because of {By}")]
    public static partial void Stopping(this ILogger log, string by);

    [LoggerMessage(1003, LogLevel.Information, "Stopped in order")]
    public static partial void Stopped(this ILogger log);

    [LoggerMessage(1004, LogLevel.Error, "Stopped, and what came about last could not be stored in {Place}: it is lost. Look at the disk")]
    public static partial void StoppedUnstored(this ILogger log, string place);

    [LoggerMessage(1010, LogLevel.Error, "The watch of {Desk} failed and begins anew in {Seconds} s; other desks are watched on. Please report this with what follows")]
    public static partial void LoopFailed(this ILogger log, Exception problem, string desk, double seconds);

    [LoggerMessage(1011, LogLevel.Warning, "No link to {Desk}: {Problem}. It is tried again in {Seconds} s")]
    public static partial void LinkNotOpened(this ILogger log, string desk, string problem, double seconds);

    [LoggerMessage(1019, LogLevel.Error, "The rule {Rule} failed at {Desk}, so what it looks for is not found there. All other rules go on. This is a fault of the program; please report it")]
    public static partial void RuleFailed(this ILogger log, Exception problem, string rule, string desk);

    [LoggerMessage(1012, LogLevel.Information, "{Desk} is watched again")]
    public static partial void LoopGoesOn(this ILogger log, string desk);

    [LoggerMessage(1013, LogLevel.Error, "The loop of {Desk} did not come round for {Seconds} s; without a watchdog it is left alone, with one the service is started anew")]
    public static partial void LoopStalled(this ILogger log, string desk, double seconds);

    [LoggerMessage(1014, LogLevel.Warning, "The loop of {Desk} did not end within {Seconds} s; what it had not handed over is lost")]
    public static partial void LoopNotEnded(this ILogger log, string desk, double seconds);

    [LoggerMessage(1015, LogLevel.Error, "What the service does every few seconds failed and is done again; please report this with what follows")]
    public static partial void RoundFailed(this ILogger log, Exception problem);

    [LoggerMessage(1016, LogLevel.Warning, "{Count} datagrams of {Desk} were lost on this machine so far")]
    public static partial void DatagramsDropped(this ILogger log, string desk, long count);

    [LoggerMessage(1020, LogLevel.Information, "{Plan} was read anew and holds for {Desk} from now on (because of {By})")]
    public static partial void PlanTaken(this ILogger log, string plan, string desk, string by);

    [LoggerMessage(1021, LogLevel.Warning, "{Plan} has a fault, so the plan before goes on for {Desk}: {Fault}")]
    public static partial void PlanRefused(this ILogger log, string plan, string desk, string fault);

    [LoggerMessage(1030, LogLevel.Information, "{Order} for {Desk} by {By}: {Result}")]
    public static partial void OrderTaken(this ILogger log, string order, string desk, string by, string result);

    [LoggerMessage(1031, LogLevel.Debug, "A message to {Address} from {Sender} means nothing in any plan")]
    public static partial void MessageUnknown(this ILogger log, string address, string sender);

    [LoggerMessage(1032, LogLevel.Warning, "More than {Most} messages for {Desk} came at once; those above it are left out. Look who sends them, and whether phase and cue are right ('statewatch status')")]
    public static partial void MessagesLeftOut(this ILogger log, string desk, int most);

    [LoggerMessage(1040, LogLevel.Warning, "The clock of this machine is not synchronised, so no phase begins by schedule until it is")]
    public static partial void ClockNotSynchronised(this ILogger log);

    [LoggerMessage(1041, LogLevel.Information, "The clock of this machine is synchronised")]
    public static partial void ClockSynchronised(this ILogger log);

    [LoggerMessage(1050, LogLevel.Debug, "{Subject}: {Text} {Advice}")]
    public static partial void SelfReport(this ILogger log, string subject, string text, string advice);

    [LoggerMessage(1051, LogLevel.Debug, "{Subject} is over")]
    public static partial void SelfCleared(this ILogger log, string subject);

    [LoggerMessage(2000, LogLevel.Error, "Nothing can be stored: {Problem}. Watching goes on; alerts are sent, marked as not recorded")]
    public static partial void NotStored(this ILogger log, string problem);

    [LoggerMessage(2001, LogLevel.Information, "What could not be stored since {Since} is stored now")]
    public static partial void StoredAgain(this ILogger log, DateTimeOffset since);

    [LoggerMessage(2002, LogLevel.Information, "History tidied: {What}")]
    public static partial void Tidied(this ILogger log, string what);

    [LoggerMessage(2004, LogLevel.Warning, "History: {Notice}")]
    public static partial void HistoryNotice(this ILogger log, string notice);

    [LoggerMessage(2003, LogLevel.Error, "What is remembered of {Desk} cannot be read: {Problem}. It is watched as if it were new, and nothing of it is stored until that can be read")]
    public static partial void NotRemembered(this ILogger log, string desk, string problem);

    [LoggerMessage(2005, LogLevel.Information, "What is remembered of {Desk} could be read; its watch goes on from there")]
    public static partial void Remembered(this ILogger log, string desk);

    [LoggerMessage(2006, LogLevel.Error, "Storing in {Place} has not come back for {Seconds} s. Watching goes on; alerts are sent, marked as not recorded. Look at the disk or the server of the history")]
    public static partial void StoringHangs(this ILogger log, string place, double seconds);

    [LoggerMessage(2007, LogLevel.Error, "The thread that stores failed and goes on; what was not stored is kept. Please report this with what follows")]
    public static partial void WriterFailed(this ILogger log, Exception problem);

    [LoggerMessage(2008, LogLevel.Warning, "The history could not be tidied: {Problem}. It grows until it can")]
    public static partial void NotTidied(this ILogger log, string problem);
}
