
namespace StateWatch.Hosting;

/// <summary>Looks at the files of all plans every few seconds, and reads those anew that have changed and come to rest. All of them at once when told to.</summary>
internal sealed class PlanWatcher(IReadOnlyList<WatchedDesk> desks, TimeProvider clock) : IDisposable
{
    /// <summary>How often files are looked at; what is taken was the same for two looks.</summary>
    public static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(2);

    private readonly SemaphoreSlim _turn = new(1, 1);

    /// <summary>Looks until it is cancelled.</summary>
    public async Task Run(CancellationToken cancel)
    {
        using var timer = new PeriodicTimer(BetweenLooks, clock);
        try
        {
            while (await timer.WaitForNextTickAsync(cancel))
                await Look(cancel);
        }
        catch (OperationCanceledException)
        {
            // The watch ends.
        }
    }

    /// <summary>Looks once.</summary>
    public Task Look(CancellationToken cancel) => Reload("change of its files", desk => desk.HasChanged(), isForced: false, cancel);

    /// <summary>Reads every plan anew.</summary>
    public Task ReloadAll(string by, CancellationToken cancel) => Reload(by, static _ => true, isForced: true, cancel);

    public void Dispose() => _turn.Dispose();

    private async Task Reload(string by, Func<WatchedDesk, bool> isDue, bool isForced, CancellationToken cancel)
    {
        await _turn.WaitAsync(cancel);
        try
        {
            foreach (var desk in desks)
            {
                if (isDue(desk))
                    desk.Reload(by, isForced);
            }
        }
        finally
        {
            _turn.Release();
        }
    }
}
