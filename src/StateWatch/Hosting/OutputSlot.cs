using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Hands outputs of one loop to the writer: one place, no waiting. While it is taken the loop keeps what comes about; only when it must let go are two joined.</summary>
/// <param name="desk">site/desk.</param>
/// <param name="filled">Called when there is something to take.</param>
internal sealed class OutputSlot(string desk, Action filled)
{
    private WatchOutput? _output;

    public string Desk { get; } = desk;

    /// <summary>Whether there is room.</summary>
    public bool IsFree => Volatile.Read(ref _output) is null;

    /// <summary>Puts an output there, behind one that is there already.</summary>
    public void Put(WatchOutput? output)
    {
        if (output is null)
            return;
        WatchOutput? before;
        do
            before = Volatile.Read(ref _output);
        while (Interlocked.CompareExchange(ref _output, before is null ? output : WatchMerge.Join(before, output), before) != before);
        filled();
    }

    /// <summary>Takes what is there, or null.</summary>
    public WatchOutput? Take() => Interlocked.Exchange(ref _output, null);
}
