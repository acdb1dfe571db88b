using System.Threading.Channels;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>
/// Tells one sink what waits for it, in order, each until it was taken; and every 30 s that the watch is alive. It has a task of its own, so
/// that nobody waits for a sink but itself.
/// </summary>
internal sealed class SinkRunner : IAsyncDisposable
{
    private static readonly TimeSpan BreakPause = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan CancelBound = TimeSpan.FromSeconds(1);

    private readonly IAlertSink _sink;
    private readonly SinkTelling _telling;
    private readonly TimeProvider _clock;
    private readonly ILogger _log;
    private readonly Channel<bool> _wakes = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private readonly CancellationTokenSource _end = new();
    private readonly ITimer _timer;
    private Task _running = Task.CompletedTask;
    private volatile bool _isEnding;

    /// <summary>Prepares it.</summary>
    /// <param name="sink">Who is told; disposed of with the runner.</param>
    /// <param name="history">Where its outbox is; it is used from the runner's own task.</param>
    /// <param name="desks">The watched desks.</param>
    /// <param name="report">Takes what goes wrong.</param>
    /// <param name="clock">The time.</param>
    /// <param name="log">The log.</param>
    /// <param name="numbers">The numbers; null for the usual ones.</param>
    public SinkRunner(IAlertSink sink, IWatchHistory history, IWatchedDesks desks, ISelfReport report, TimeProvider clock, ILogger log, SinkNumbers? numbers = null)
    {
        (_sink, _clock, _log) = (sink, clock, log);
        _telling = new SinkTelling(sink, history, desks, report, clock, log, numbers ?? new SinkNumbers());
        _timer = clock.CreateTimer(_ => Wake(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    /// <summary>How the sink stands; from any thread.</summary>
    public SinkStatus State => _telling.State;

    /// <summary>Begins.</summary>
    public void Start() => _running = Task.Run(Run);

    /// <summary>Says that rows were committed; from any thread, never waits.</summary>
    public void Wake() => _wakes.Writer.TryWrite(true);

    /// <summary>Hands over an alert that could not be recorded; from any thread, never waits. One for another sink is passed over.</summary>
    public void OfferUnrecorded(Alert alert)
    {
        if (!string.Equals(alert.Told.Sink, _sink.Name, StringComparison.Ordinal))
            return;
        _telling.Unrecorded.Add(alert);
        Wake();
    }

    /// <summary>Ends in order: what is in flight is finished, and what is in memory only is sent where that works at once, within the time given.</summary>
    public async Task StopAsync(TimeSpan bound)
    {
        _isEnding = true;
        Wake();
        if (!await IsDoneWithin(bound))
        {
            await _end.CancelAsync();
            await IsDoneWithin(CancelBound);
        }
    }

    /// <summary>Ends it at once if it was not stopped, and disposes of the sink.</summary>
    public async ValueTask DisposeAsync()
    {
        await StopAsync(TimeSpan.Zero);
        await _timer.DisposeAsync();
        await _sink.DisposeAsync();
        _end.Dispose();
    }

    private async Task Run()
    {
        while (!_end.IsCancellationRequested && (!_isEnding || _telling.HasToHurry))
        {
            TimeSpan wait;
            try
            {
                wait = await _telling.Step(_end.Token);
            }
            catch (OperationCanceledException) when (_end.IsCancellationRequested)
            {
                break;
            }
#pragma warning disable CA1031 // Whatever is wrong with one sink, its alerts must go on.
            catch (Exception problem)
#pragma warning restore CA1031
            {
                wait = BreakPause;
                _log.Broke(problem, _sink.Name, _sink.Place, wait);
            }

            if (wait > TimeSpan.Zero && !_isEnding)
                await Wait(wait);
        }

        _telling.Note();
    }

    private async ValueTask Wait(TimeSpan wait)
    {
        _timer.Change(wait, Timeout.InfiniteTimeSpan);
        try
        {
            await _wakes.Reader.ReadAsync(_end.Token);
        }
        catch (OperationCanceledException)
        {
            // The loop sees it.
        }
    }

    private async Task<bool> IsDoneWithin(TimeSpan bound)
    {
        try
        {
            await _running.WaitAsync(bound, _clock);
            return true;
        }
        catch (TimeoutException)
        {
            return _running.IsCompleted;
        }
    }
}
