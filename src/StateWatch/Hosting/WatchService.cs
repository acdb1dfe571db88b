using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Starts everything that turns, and ends it in order: loops, the last commit, sinks, the history.</summary>
internal sealed class WatchService : IHostedService, IAsyncDisposable
{
    private static readonly TimeSpan LoopsGet = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan BetweenTicks = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BetweenStatusLines = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan BetweenLooksWhenStarting = TimeSpan.FromMilliseconds(5);

    private readonly WatchOutside _outside;
    private readonly ILogger _log;
    private readonly CancellationTokenSource _end = new();
    private readonly List<Task> _tasks = [];

    public WatchService(WatchSite site, HistoryWriter writer, IReadOnlyList<SinkRunner> sinks, SelfReports self, WatchOutside outside, ILogger log)
    {
        (Site, Writer, Sinks, Self, _outside, _log) = (site, writer, sinks, self, outside, log);
        Notices = new SystemNotices(outside.Notifier);
        Plans = new PlanWatcher(site.Desks, outside.Clock);
        Schedules = new ScheduleRunner([.. site.Desks.Select(static desk => new ScheduledDesk(desk.Key, desk.IsFresh, () => desk.Schedule, () => desk.Loop.Status, desk.Loop.Order))], outside.IsClockSynchronised, outside.Clock, self, log);
        Drops = new DropWatch(() => site.Desks.Select(static desk => (desk.Settings.Name, desk.Loop.Status?.Link is { } link ? link.Dropped + link.TooLong : 0)), self, outside.Clock, log);
        Watchdog = new Watchdog(site.Loops, Notices, self, log) { Half = outside.WatchdogHalf ?? TimeSpan.FromSeconds(10) };
        writer.Stored = WakeSinks;
        writer.NotRecorded = OfferSinks;
    }

    public WatchSite Site { get; }

    public HistoryWriter Writer { get; }

    public IReadOnlyList<SinkRunner> Sinks { get; }

    public SelfReports Self { get; }

    public SystemNotices Notices { get; }

    public PlanWatcher Plans { get; }

    public Watchdog Watchdog { get; }

    public ScheduleRunner Schedules { get; }

    public DropWatch Drops { get; }

    /// <summary>Takes messages; null when none are to be taken.</summary>
    public MessageListener? Messages { get; set; }

    /// <summary>Who or what ends the watch.</summary>
    public string EndedBy { get; set; } = "the end of the process";

    public Task StartAsync(CancellationToken cancellationToken)
    {
        Writer.Start();
        foreach (var loop in Site.Loops)
            loop.Start();
        foreach (var sink in Sinks)
            sink.Start();
        _tasks.Add(Plans.Run(_end.Token));
        _tasks.Add(Repeat(BetweenTicks, Site.Own.Tick));
        _tasks.Add(Repeat(ScheduleRunner.BetweenLooks, Schedules.Look));
        _tasks.Add(Repeat(Watchdog.Half, () => _ = Watchdog.Look()));
        _tasks.Add(Repeat(BetweenStatusLines, Drops.Look));
        _tasks.Add(Repeat(BetweenStatusLines, () => Notices.Status(StatusLine.Of(Site, Writer))));
        return Task.CompletedTask;
    }

    /// <summary>Waits until every loop has come round once, and says that the watch is ready.</summary>
    public async Task WaitUntilReady(CancellationToken cancel)
    {
        while (!Site.Loops.All(static loop => loop.HasTurned))
            await Task.Delay(BetweenLooksWhenStarting, cancel);
        Notices.Status(StatusLine.Of(Site, Writer));
        Notices.Ready();
        _log.Ready();
    }

    /// <summary>Reads every plan anew, and tells the manager when it began and when it was done.</summary>
    public async Task Reload(string by)
    {
        Notices.Reloading();
        try
        {
            await Plans.ReloadAll(by, _end.Token);
        }
        finally
        {
            Notices.Ready();
        }
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        Notices.Stopping();
        _log.Stopping(EndedBy);
        Messages?.Dispose();
        await _end.CancelAsync();
        await Task.WhenAll(_tasks);
        await Task.WhenAll(Site.Loops.Select(loop => Task.Run(() =>
        {
            if (!loop.Stop(EndedBy, LoopsGet))
                _log.LoopNotEnded(loop.Desk, LoopsGet.TotalSeconds);
        }, CancellationToken.None)));
        Writer.Stop(LoopsGet);
        await Task.WhenAll(Sinks.Select(sink => sink.StopAsync(_outside.SinksGet)));
        _log.Stopped();
    }

    public async ValueTask DisposeAsync()
    {
        Messages?.Dispose();
        foreach (var sink in Sinks)
            await sink.DisposeAsync();
        foreach (var desk in Site.Desks)
            desk.Dispose();
        Writer.Dispose();
        Plans.Dispose();
        _end.Dispose();
        _outside.History.Dispose();
    }

    private void WakeSinks(IReadOnlyList<WatchOutput> outputs)
    {
        foreach (var sink in Sinks)
        {
            if (outputs.Any(static output => output.Alerts.Count > 0))
                sink.Wake();
        }
    }

    private void OfferSinks(IReadOnlyList<Alert> alerts)
    {
        foreach (var alert in alerts)
        {
            foreach (var sink in Sinks)
                sink.OfferUnrecorded(alert);
        }
    }

    private async Task Repeat(TimeSpan every, Action what)
    {
        using var timer = new PeriodicTimer(every, _outside.Clock);
        try
        {
            while (await timer.WaitForNextTickAsync(_end.Token))
            {
                try
                {
                    what();
                }
#pragma warning disable CA1031 // Whatever fails in one round, the next one is due.
                catch (Exception problem)
#pragma warning restore CA1031
                {
                    _log.RoundFailed(problem);
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The watch ends.
        }
    }
}
