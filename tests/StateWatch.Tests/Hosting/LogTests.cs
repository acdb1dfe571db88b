using System.Collections;
using System.Reflection;
using System.Text.Json;
using Microsoft.Extensions.Logging;
using Serilog.Events;
using Serilog.Extensions.Logging;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>What is logged, in which form, and that its event ids stay what contributors were told.</summary>
public sealed class LogTests
{
    private static IEnumerable<(MethodInfo Method, LoggerMessageAttribute Message)> Messages =>
        typeof(LogEvents).Assembly.GetTypes().SelectMany(type => type.GetMethods(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic))
            .Select(method => (method, method.GetCustomAttribute<LoggerMessageAttribute>())).Where(pair => pair.Item2 is not null).Select(pair => (pair.method, pair.Item2!));

    [Fact]
    public void Event_ids_are_unique() =>
        Assert.Equal([], Messages.GroupBy(pair => pair.Message.EventId).Where(same => same.Count() > 1).Select(same => $"{same.Key}: {string.Join(", ", same.Select(pair => pair.Method.Name))}"));

    [Fact]
    public void Event_ids_are_documented()
    {
        var page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "DEVELOPERS.md"));
        Assert.Equal([], Messages.Where(pair => !page.Contains($"| {pair.Message.EventId} |", StringComparison.Ordinal)).Select(pair => $"| {pair.Message.EventId} | {pair.Method.Name} |"));
    }

    // RFC 5424, table 2: 3 error, 4 warning, 6 informational, 7 debug; sd-daemon(3): before each line, in angle brackets.
    [Theory]
    [InlineData(LogEventLevel.Debug, "<7>")]
    [InlineData(LogEventLevel.Information, "<6>")]
    [InlineData(LogEventLevel.Warning, "<4>")]
    [InlineData(LogEventLevel.Error, "<3>")]
    [InlineData(LogEventLevel.Fatal, "<2>")]
    public void Journal_gets_the_severity_before_each_line_and_no_time(LogEventLevel level, string severity)
    {
        using var output = new StringWriter();
        var template = new Serilog.Parsing.MessageTemplateParser().Parse("The watch of {Desk} failed");
        new JournalText().Format(new LogEvent(new DateTimeOffset(2026, 11, 25, 9, 0, 0, TimeSpan.Zero), level, new InvalidOperationException("why"), template, [new LogEventProperty("Desk", new ScalarValue("here/house\n<0>forged"))]), output);
        var lines = output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.TrimEnd('\r')).ToList();
        Assert.Equal($@"{severity}The watch of here/house\x0A<0>forged failed", lines[0]);
        Assert.All(lines, line => Assert.StartsWith(severity, line, StringComparison.Ordinal));
        Assert.Contains("System.InvalidOperationException: why", lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Files_are_compact_json_that_roll_by_size_and_are_capped_in_number()
    {
        using var folder = new ScratchFolder();
        using var console = new StringWriter();
        var settings = new LogSettings { Folder = folder.PathOf("log"), Megabytes = 1, Files = 2 };
        using (var log = WatchLog.Open(settings, new Hashtable(), console))
        using (var provider = new SerilogLoggerProvider(log))
        {
            var logger = provider.CreateLogger("test");
            for (var i = 0; i < 300; i++)
                logger.HistoryNotice(new string('x', 10_000));
        }

        var files = Directory.GetFiles(settings.Folder!);
        Assert.Equal(2, files.Length);
        Assert.All(files, file => Assert.InRange(new FileInfo(file).Length, 1, (1 << 20) + 20_000));
        var line = JsonDocument.Parse(File.ReadLines(files[0]).First()).RootElement;
        Assert.Equal(("History: {Notice}", "Warning", 2004), (line.GetProperty("@mt").GetString(), line.GetProperty("@l").GetString(), line.GetProperty("EventId").GetProperty("Id").GetInt32()));
        Assert.Contains(" warning History: xxx", console.ToString(), StringComparison.Ordinal);
    }
}
