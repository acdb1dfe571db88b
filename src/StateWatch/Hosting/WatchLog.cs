using System.Collections;
using System.Globalization;
using Serilog;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting;
using Serilog.Formatting.Compact;
using Serilog.Formatting.Display;
using StateWatch.Core.Reports;
using StateWatch.Hosting.Settings;

namespace StateWatch.Hosting;

/// <summary>The log: to the console, as the journal wants it where systemd reads it, and to files in compact JSON that roll by size.</summary>
internal static class WatchLog
{
    /// <summary>The first part of the files' names.</summary>
    public const string FileName = "statewatch-.json";

    /// <summary>Makes the log.</summary>
    /// <param name="settings">Where to, and how much.</param>
    /// <param name="environment">Variables of the process: <c>JOURNAL_STREAM</c> says that systemd reads the console.</param>
    /// <param name="console">The console.</param>
    public static Logger Open(LogSettings settings, IDictionary environment, TextWriter console)
    {
        var level = settings.Level switch
        {
            "debug" => LogEventLevel.Debug,
            "warning" => LogEventLevel.Warning,
            "error" => LogEventLevel.Error,
            _ => LogEventLevel.Information,
        };
        var log = new LoggerConfiguration().MinimumLevel.Is(level).MinimumLevel.Override("Microsoft", LogEventLevel.Warning).MinimumLevel.Override("System", LogEventLevel.Warning)
            .WriteTo.Sink(new ConsoleLines(environment["JOURNAL_STREAM"] is string { Length: > 0 } ? new JournalText() : new TerminalText(), console));
        var refusal = settings.Folder is null ? null : RefusalOf(settings.Folder);
        if (settings.Folder is { } folder && refusal is null)
        {
            log = log.WriteTo.File(new CompactJsonFormatter(), Path.Combine(folder, FileName), fileSizeLimitBytes: settings.Megabytes * 1L << 20,
                rollOnFileSizeLimit: true, rollingInterval: RollingInterval.Infinite, retainedFileCountLimit: settings.Files, buffered: false);
        }

        var made = log.CreateLogger();
        if (refusal is not null)
            made.Warning("No log files are written in {Folder}: {Problem}. Let this user write there, or give another folder (log:folder)", settings.Folder, refusal);
        return made;
    }

    // Whoever writes files keeps silent about what it cannot write.
    private static string? RefusalOf(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            var probe = Path.Combine(folder, $".{Guid.NewGuid():N}");
            File.WriteAllBytes(probe, []);
            File.Delete(probe);
            return null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return problem.Message.TrimEnd('.');
        }
    }

    private sealed class ConsoleLines(ITextFormatter form, TextWriter console) : ILogEventSink
    {
        private readonly Lock _gate = new();

        public void Emit(LogEvent logEvent)
        {
            lock (_gate)
            {
                form.Format(logEvent, console);
                console.Flush();
            }
        }
    }
}

/// <summary>A line with time of day and level, for people at a terminal.</summary>
internal sealed class TerminalText : ITextFormatter
{
    public void Format(LogEvent logEvent, TextWriter output)
    {
        output.WriteLine($"{logEvent.Timestamp:HH:mm:ss} {LogWords.Of(logEvent.Level),-7} {LogWords.Message(logEvent)}");
        if (logEvent.Exception is { } problem)
            output.WriteLine(problem);
    }
}

/// <summary>Lines for the journal: it knows the time itself, and takes the severity of RFC 5424 (table 2) in angle brackets before each line (sd-daemon(3)).</summary>
internal sealed class JournalText : ITextFormatter
{
    public void Format(LogEvent logEvent, TextWriter output)
    {
        var text = LogWords.Message(logEvent);
        if (logEvent.Exception is { } problem)
            text = $"{text}\n{problem}";
        foreach (var line in text.AsSpan().EnumerateLines())
            output.WriteLine($"<{LogWords.Severity(logEvent.Level)}>{line}");
    }
}

/// <summary>Words and numbers of levels.</summary>
internal static class LogWords
{
    // What a desk or a file says is written as it is, without quotes.
    private static readonly MessageTemplateTextFormatter Plain = new("{Message:lj}", CultureInfo.InvariantCulture);

    /// <summary>The message in one line, harmless on a terminal.</summary>
    public static string Message(LogEvent logEvent)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        Plain.Format(logEvent, text);
        return PlainText.Clean(text.ToString());
    }

    public static string Of(LogEventLevel level) => level switch
    {
        LogEventLevel.Verbose or LogEventLevel.Debug => "debug",
        LogEventLevel.Information => "info",
        LogEventLevel.Warning => "warning",
        _ => "error",
    };

    /// <summary>RFC 5424, table 2: 7 debug, 6 informational, 4 warning, 3 error, 2 critical.</summary>
    public static int Severity(LogEventLevel level) => level switch
    {
        LogEventLevel.Verbose or LogEventLevel.Debug => 7,
        LogEventLevel.Information => 6,
        LogEventLevel.Warning => 4,
        LogEventLevel.Error => 3,
        _ => 2,
    };
}
