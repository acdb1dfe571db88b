using StateWatch.History;

namespace StateWatch.Hosting;

/// <summary>
/// Keeps the history within its limits, on a thread of its own, so that nothing waits for it to be stored or told: soon after the start, since many a box runs for an
/// hour a week, then every hour, and when the disk is full.
/// </summary>
internal sealed class HistoryTidying : IDisposable
{
    /// <summary>How long after the start.</summary>
    public static readonly TimeSpan Soon = TimeSpan.FromMinutes(1);

    /// <summary>How often.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromHours(1);

    // A disk that stays full whatever is removed is looked at no more often than this.
    private static readonly TimeSpan BetweenFull = TimeSpan.FromMinutes(1);

    private readonly IWatchHistory _history;
    private readonly Func<bool> _isClockTrusted;
    private readonly ILogger _log;
    private readonly TimeProvider _clock;
    private readonly SemaphoreSlim _full = new(0, 1);
    private readonly CancellationTokenSource _end = new();
    private readonly Thread _thread;

    public HistoryTidying(IWatchHistory history, Func<bool> isClockTrusted, ILogger log, TimeProvider clock)
    {
        (_history, _isClockTrusted, _log, _clock) = (history, isClockTrusted, log, clock);
        _thread = new Thread(Run) { IsBackground = true, Name = "history tidying" };
    }

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

    /// <summary>The disk is full: it is tidied as soon as may be. From any thread.</summary>
    public void Full()
    {
        try
        {
            if (_full.CurrentCount == 0)
                _full.Release();
        }
        catch (SemaphoreFullException)
        {
            // Somebody said so at the same moment.
        }
    }

    /// <summary>Ends it; what is in the middle of being removed goes on to the end of the process.</summary>
    public void Dispose()
    {
        _end.Cancel();
        if (_thread.IsAlive && !_thread.Join(TimeSpan.FromSeconds(1)))
            return;
        _end.Dispose();
        _full.Dispose();
    }

    private void Run()
    {
        try
        {
            for (var wait = Soon; ; wait = Every)
            {
                Wait(wait);
                Tidy();
                // Whatever is said in between is due at the end of it.
                Task.Delay(BetweenFull, _clock, _end.Token).GetAwaiter().GetResult();
            }
        }
        catch (OperationCanceledException)
        {
            // The watch ends.
        }
    }

    private void Wait(TimeSpan wait)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(_end.Token);
        _ = Task.WhenAny(_full.WaitAsync(either.Token), Task.Delay(wait, _clock, either.Token)).GetAwaiter().GetResult();
        either.Cancel();
        _end.Token.ThrowIfCancellationRequested();
    }

    /// <summary>Tidies once.</summary>
    internal void Tidy()
    {
        try
        {
            if (_history.Tidy(_clock.GetUtcNow(), _isClockTrusted()) is { Length: > 0 } what)
                _log.Tidied(what);
        }
#pragma warning disable CA1031 // Whatever it is, the next time is due.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            _log.NotTidied(problem.Message);
        }
    }
}
