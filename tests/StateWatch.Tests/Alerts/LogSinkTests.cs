using System.Collections;
using Microsoft.Extensions.Logging;
using Serilog.Extensions.Logging;
using StateWatch.Alerts;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;

namespace StateWatch.Tests.Alerts;

public sealed class LogSinkTests
{
    private readonly Lines _log = new();

    [Theory]
    [InlineData(LevelKind.Raised, Severity.Urgent, LogLevel.Error)]
    [InlineData(LevelKind.Unstable, Severity.Urgent, LogLevel.Error)]
    [InlineData(LevelKind.Raised, Severity.Warning, LogLevel.Warning)]
    [InlineData(LevelKind.Raised, Severity.Notice, LogLevel.Information)]
    [InlineData(LevelKind.Acknowledged, Severity.Urgent, LogLevel.Information)]
    [InlineData(LevelKind.None, Severity.Urgent, LogLevel.Information)]
    public async Task The_level_is_that_of_what_is_new(LevelKind kind, Severity severity, LogLevel level)
    {
        await Send(Some.Row(Some.Alert("journal", Some.Key(12), 1, kind, severity)));
        Assert.Equal(level, _log.Written.Single().Level);
    }

    [Fact]
    public async Task One_line_says_where_what_and_what_to_do()
    {
        await Send(Some.Row(Some.Alert("journal", Some.Key(12), 1)));
        Assert.Equal((LogLevel.Error, 4010, "barn/midwinter: raised, urgent: Ada Example is post-fader in the wedge. Set the send of Ada Example to pre-fader. [barn/midwinter/tap-wrong:input/12#1#1]"), _log.Written.Single());
    }

    [Fact]
    public async Task The_line_is_the_same_in_the_log_of_the_service()
    {
        using var console = new StringWriter();
        using (var log = WatchLog.Open(new LogSettings(), new Hashtable(), console))
        using (var provider = new SerilogLoggerProvider(log))
        {
            await using var sink = new LogSink("journal", provider.CreateLogger("test"));
            _ = await sink.Send(Some.Row(Some.Alert("journal", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        }

        Assert.Contains(" error   barn/midwinter: raised, urgent: Ada Example is post-fader in the wedge. Set the send of Ada Example to pre-fader. [barn/midwinter/tap-wrong:input/12#1#1]", console.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_could_not_be_recorded_says_so_and_no_text_breaks_the_line()
    {
        var alert = Some.Alert("journal", Some.Key(12), 2);
        await Send(new WaitingAlert(3, alert with { Words = Some.Words with { Text = "one\ntwo\u001b[2J" } }, 0) { Unrecorded = 1 });
        Assert.Equal("barn/midwinter: cleared, urgent: one\\x0Atwo\\x1B[2J (not recorded) [barn/midwinter/tap-wrong:input/12#1#2#unrecorded-20261206T084009120]", _log.Written.Single().Text);
    }

    [Fact]
    public async Task Who_acknowledged_and_why_it_is_held_stands_there()
    {
        var alert = Some.Alert("journal", Some.Key(12), 2, LevelKind.Held);
        await Send(Some.Row(alert with { Told = alert.Told with { By = "Ben Sample", Why = "shelved: new cable" } }));
        Assert.Contains("(by Ben Sample, shelved: new cable)", _log.Written.Single().Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_digest_with_something_urgent_is_an_error()
    {
        var digest = Some.Digest("journal", 1, (Some.Key(1), 1), (Some.Key(2), 1));
        await Send(Some.Row(digest));
        await Send(Some.Row(digest with { Told = digest.Told with { Digest = [digest.Told.Digest![0] with { Severity = Severity.Urgent }] } }));
        Assert.Equal([LogLevel.Information, LogLevel.Error], _log.Written.Select(line => line.Level));
    }

    private async Task Send(WaitingAlert alert)
    {
        await using var sink = new LogSink("journal", _log);
        Assert.Equal(Delivery.Taken, await sink.Send(alert, TestContext.Current.CancellationToken));
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));
    }

    private sealed class Lines : ILogger
    {
        public List<(LogLevel Level, int Id, string Text)> Written { get; } = [];

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Written.Add((logLevel, eventId.Id, formatter(state, exception)));
    }
}
