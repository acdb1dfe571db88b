using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Hosting;

/// <summary>
/// Reads what is stored of each desk. What cannot be read is not the same as nothing: a desk that begins without its memory is watched, but nothing of it is stored
/// until its memory could be read, or its numbers would begin again and what is stored would be overwritten.
/// </summary>
internal sealed class DeskMemories(IWatchHistory history, ISelfReport self, ILogger log, TimeProvider clock)
{
    // Looking through a large file on a slow card takes some seconds; a start may take a minute.
    private static readonly TimeSpan ReadWithin = TimeSpan.FromSeconds(10);

    private readonly Dictionary<string, Action<StoredDesk?>?> _unread = new(StringComparer.Ordinal);
    private readonly StorePace _pace = new(clock);

    /// <summary>Whether one of them has not been read yet.</summary>
    public bool HasUnread { get; private set; }

    /// <summary>Whether it is time to try again.</summary>
    public bool IsDue => HasUnread && _pace.IsDue;

    /// <summary>Whether that of a desk has not been read yet.</summary>
    public bool IsUnread(string desk) => _unread.ContainsKey(desk);

    /// <summary>The finding that what is remembered of a desk cannot be read.</summary>
    public static string FindingOf(string desk) => $"history-unread:{DeskKey.NameOf(desk)}";

    /// <summary>What is stored of a desk; null when nothing is, or when it cannot be read, which is told. After one that cannot be read no other is tried, for a start must not wait for each.</summary>
    public StoredDesk? Load(string desk)
    {
        var problem = "the history could not be read a moment ago";
        try
        {
            if (!HasUnread)
                return LoadSoon(desk);
        }
        catch (HistoryException fault)
        {
            problem = fault.Message;
            _pace.Fail();
        }

        (_unread[desk], HasUnread) = (null, true);
        log.NotRemembered(desk, problem);
        self.Report(FindingOf(desk), Severity.Warning, new AlertWords("history-unread", $"what is remembered of {desk} cannot be read: {problem}",
            "It is watched and told, but acknowledgements and holds of before do not count, and nothing of it is stored until its memory can be read.", "Look at the disk or the server of the history; the watch tries again by itself."));
        return null;
    }

    /// <summary>Says what to do with the memory of a desk once it could be read; null when there is none.</summary>
    public void WhenRead(string desk, Action<StoredDesk?> recall)
    {
        if (_unread.ContainsKey(desk))
            _unread[desk] = recall;
    }

    /// <summary>Tries again those that have not been read. On the writer's thread.</summary>
    public void TryAgain()
    {
        foreach (var (desk, recall) in _unread.ToArray())
        {
            StoredDesk? stored;
            try
            {
                stored = history.Load(desk);
            }
            catch (HistoryException)
            {
                _pace.Fail();
                return;
            }

            _unread.Remove(desk);
            HasUnread = _unread.Count > 0;
            log.Remembered(desk);
            recall?.Invoke(stored);
            self.Clear(FindingOf(desk));
        }

        _pace.Succeed();
    }

    // A disk that hangs must not keep a desk from being watched.
    private StoredDesk? LoadSoon(string desk)
    {
        var loading = Task.Run(() => history.Load(desk));
        if (Task.WhenAny(loading, Task.Delay(ReadWithin, clock)).GetAwaiter().GetResult() == loading)
            return loading.GetAwaiter().GetResult();
        _ = loading.ContinueWith(static late => late.Exception, TaskScheduler.Default);
        throw new HistoryException($"The history {history.Place} has not answered within {ReadWithin.TotalSeconds:0} s. Look at its disk or server; it is tried again.");
    }
}
