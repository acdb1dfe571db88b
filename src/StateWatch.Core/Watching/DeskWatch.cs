using StateWatch.Core.Findings;
using StateWatch.Core.Links;

namespace StateWatch.Core.Watching;

/// <summary>
/// The watch of one desk, without threads, files or sockets: follows it, judges it, lets its findings live, takes orders. One thread calls
/// <see cref="Next"/> again and again and takes what came about; anybody may give orders and look at the status.
/// </summary>
public sealed class DeskWatch
{
    /// <summary>Prepares a watch.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="plan">The plan; it has no faults.</param>
    /// <param name="reader">The link. Its clock rules everything.</param>
    /// <param name="sinks">Names of those who are told.</param>
    /// <param name="stored">What was stored of the desk, or null.</param>
    public DeskWatch(string desk, WatchedPlan plan, IDeskReader reader, IReadOnlyList<string> sinks, StoredDesk? stored) =>
        throw new NotSupportedException();

    /// <summary>One batch: takes orders, waits for the desk for so long at the most, judges, lets time pass.</summary>
    public void Next(TimeSpan atMost) => throw new NotSupportedException();

    /// <summary>Gives an order, from any thread.</summary>
    public void Order(WatchOrder order) => throw new NotSupportedException();

    /// <summary>What came about since it was last taken; null when there is nothing to store. On the thread of <see cref="Next"/>.</summary>
    public WatchOutput? Take() => throw new NotSupportedException();

    /// <summary>How it stands, as of a second ago at the most; from any thread.</summary>
    public DeskStatus Status => throw new NotSupportedException();

    /// <summary>Ends it in order: the last of the journal is in what is taken next. On the thread of <see cref="Next"/>.</summary>
    public void End(string by) => throw new NotSupportedException();

    /// <summary>Now, on both clocks of the link.</summary>
    internal static Moment Now(IDeskReader reader) => new(reader.Clock.GetElapsedTime(0), reader.Clock.GetUtcNow());
}
