using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>What a loop turns: a watch of one desk, or the watch's own ledger. One thread turns it; orders and status are for any.</summary>
internal interface IWatchTurns : IDisposable
{
    /// <summary>site/desk.</summary>
    string Desk { get; }

    /// <summary>How it stands.</summary>
    DeskStatus Status { get; }

    /// <summary>One turn.</summary>
    void Next(TimeSpan atMost);

    /// <summary>What came about, or null.</summary>
    WatchOutput? Take();

    /// <summary>Everything that is remembered, for one that goes on in its place.</summary>
    StoredDesk Export();

    /// <summary>Gives an order, from any thread.</summary>
    void Order(WatchOrder order);

    /// <summary>Ends it in order.</summary>
    void End(string by);
}

/// <summary>The watch of a desk as a loop turns it.</summary>
/// <param name="watch">The watch.</param>
/// <param name="recording">Where it is recorded, or null.</param>
internal sealed class DeskTurns(DeskWatch watch, IDisposable? recording = null) : IWatchTurns
{
    public string Desk => watch.Desk;

    public DeskStatus Status => watch.Status;

    public void Next(TimeSpan atMost) => watch.Next(atMost);

    public WatchOutput? Take() => watch.Take();

    public StoredDesk Export() => watch.Export();

    public void Order(WatchOrder order) => watch.Order(order);

    public void End(string by) => watch.End(by);

    public void Dispose()
    {
        watch.Dispose();
        recording?.Dispose();
    }
}
