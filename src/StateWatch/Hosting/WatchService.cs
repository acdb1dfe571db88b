using StateWatch.Alerts;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Starts everything that turns, and ends it in order: loops, the last commit, sinks, the history.</summary>
internal sealed class WatchService : IHostedService, IAsyncDisposable
{
    private static readonly TimeSpan LoopsGet = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan RoundsGet = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan BetweenTicks = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BetweenStatusLines = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan BetweenLooksWhenStarting = TimeSpan.FromMilliseconds(5);

    private readonly WatchOutside _outside;
    private readonly ILogger _log;
    private readonly CancellationTokenSource _end = new();
    private readonly List<Task> _tasks = [];
    private volatile bool _isStarted;
    private volatile bool _isReady;
    private volatile bool _isStopping;

    public WatchService(WatchSite site, HistoryWriter writer, IReadOnlyList<SinkRunner> sinks, SelfReports self, WatchOutside outside, ILogger log)
    {
        (Site, Writer, Sinks, Self, _outside, _log) = (site, writer, sinks, self, outside, log);
        Notices = new SystemNotices(outside.Notifier);
        Plans = new PlanWatcher(site.Desks, outside.Clock);
        Schedules = new ScheduleRunner([.. site.Desks.Select(static desk => new ScheduledDesk(desk.Key, desk.IsFresh, () => desk.Schedule, () => desk.Loop.Status, desk.Loop.Order))], outside.IsClockSynchronised, outside.Clock, self, log);
        Drops = new DropWatch(() => site.Desks.Select(static desk => (desk.Settings.Name, desk.Loop.Status?.Link is { } link ? link.Dropped + link.TooLong : 0)), self, outside.Clock, log);
        Watchdog = new Watchdog(site.Loops, Notices, self, log) { Half = outside.WatchdogHalf ?? DeskLoop.Still };
        Tidying = new HistoryTidying(outside.History, outside.IsClockSynchronised, log, outside.Clock);
        writer.Full = Tidying.Full;
        writer.Stored = WakeSinks;
        writer.NotRecorded = OfferSinks;
    }

    public WatchSite Site { get; }

    public HistoryWriter Writer { get; }

    public IReadOnlyList<SinkRunner> Sinks { get; }

    public SelfReports Self { get; }

    public SystemNotices Notices { get; }

    public PlanWatcher Plans { get; }

    public HistoryTidying Tidying { get; }

    public Watchdog Watchdog { get; }

    public ScheduleRunner Schedules { get; }

    public DropWatch Drops { get; }

    /// <summary>Takes messages; null when none are to be taken.</summary>
    public MessageListener? Messages { get; set; }

    /// <summary>Who or what ends the watch.</summary>
    public string EndedBy { get; set; } = "the end of the process";

    public Task StartAsync(CancellationToken cancellationToken)
    {
        _isStarted = true;
        Writer.Start();
        Tidying.Start();
        foreach (var loop in Site.Loops)
            loop.Start();
        foreach (var sink in Sinks)
            sink.Start();
        _tasks.Add(Plans.Run(_end.Token));
        _tasks.Add(Repeat(BetweenTicks, () => Site.Own.Tick()));
        _tasks.Add(Repeat(BetweenTicks, Writer.Look));
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
        _isReady = true;
        _log.Ready();
    }

    /// <summary>Reads every plan anew, and tells the manager when it began and when it was done.</summary>
    public async Task Reload(string by)
    {
        // To the manager a reload is one of a watch that is ready: before and after that it would hear of a state that is none.
        var isTold = _isReady && !_isStopping;
        if (isTold)
            Notices.Reloading();
        try
        {
            await Plans.ReloadAll(by, _end.Token);
        }
        catch (OperationCanceledException) when (_end.IsCancellationRequested)
        {
            // The watch ends.
        }
        finally
        {
            if (isTold && !_isStopping)
                Notices.Ready();
        }
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        if (_isStopping || !_isStarted)
            return;
        _isStopping = true;
        Notices.Stopping();
        _log.Stopping(EndedBy);
        Messages?.Dispose();
        await _end.CancelAsync();
        await EndRounds();
        await Task.WhenAll(Site.Loops.Select(loop => Task.Run(() =>
        {
            if (!loop.Stop(EndedBy, LoopsGet))
                _log.LoopNotEnded(loop.Desk, LoopsGet.TotalSeconds);
        }, CancellationToken.None)));
        var isStored = Writer.Stop(LoopsGet) && !Writer.IsFailing;
        await Task.WhenAll(Sinks.Select(sink => sink.StopAsync(_outside.SinksGet)));
        if (isStored)
            _log.Stopped();
        else
            _log.StoppedUnstored(_outside.History.Place);
    }

    // A plan on a share that hangs keeps nobody from the last commit.
    private async Task EndRounds()
    {
        try
        {
            await Task.WhenAll(_tasks).WaitAsync(RoundsGet, _outside.Clock);
        }
#pragma warning disable CA1031 // Whatever is wrong with a round, the watch ends in order.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            _log.RoundFailed(problem);
        }
    }

    public async ValueTask DisposeAsync()
    {
        // What turns must not outlive what it turns with, where a start failed half way.
        await StopAsync(CancellationToken.None);
        foreach (var sink in Sinks)
            await sink.DisposeAsync();
        foreach (var desk in Site.Desks)
            desk.Dispose();
        Writer.Dispose();
        Tidying.Dispose();
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
