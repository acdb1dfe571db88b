using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Hosting;

/// <summary>Remembers what was committed; fails when told to.</summary>
internal sealed class RecordingHistory : IWatchHistory
{
    private readonly List<IReadOnlyList<WatchOutput>> _commits = [];
    private readonly List<(DateTimeOffset At, bool IsClockTrusted)> _tidied = [];

    /// <summary>Nothing is taken.</summary>
    public bool Fails { get; set; }

    /// <summary>What is stored cannot be read.</summary>
    public bool IsUnreadable { get; set; }

    /// <summary>Thrown by the next commit, once.</summary>
    public Exception? Breaks { get; set; }

    /// <summary>A commit waits for this.</summary>
    public ManualResetEventSlim? Hangs { get; set; }

    /// <summary>Set when a commit waits.</summary>
    public ManualResetEventSlim Waits { get; } = new();

    /// <summary>Thrown by tidying.</summary>
    public Exception? TidyingBreaks { get; set; }

    public IReadOnlyList<(DateTimeOffset At, bool IsClockTrusted)> Tidied
    {
        get
        {
            lock (_tidied)
                return [.. _tidied];
        }
    }

    /// <summary>What is stored.</summary>
    public StoredDesk? Stored { get; set; }

    public int Loads { get; private set; }

    public SemaphoreSlim Committed { get; } = new(0);

    public string Place => "memory";

    public IReadOnlyList<IReadOnlyList<WatchOutput>> Commits
    {
        get
        {
            lock (_commits)
                return [.. _commits];
        }
    }

    public StoredDesk? Load(string desk)
    {
        Loads++;
        return IsUnreadable ? throw new HistoryException("the file is damaged") : Stored;
    }

    public void Commit(IReadOnlyList<WatchOutput> outputs)
    {
        if (Hangs is { } hangs)
        {
            Waits.Set();
            hangs.Wait();
        }

        if (Breaks is { } problem)
        {
            Breaks = null;
            throw problem;
        }

        if (Fails)
            throw new HistoryException("the disk is full") { IsFull = true };
        lock (_commits)
            _commits.Add(outputs);
        Committed.Release();
    }

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most) => [];

    public int CountWaiting(string sink) => 0;

    public void Delivered(string sink, IReadOnlyList<long> rows)
    {
    }

    public void Refused(string sink, IReadOnlyList<long> rows)
    {
    }

    public int Coalesce(string sink, int most) => 0;

    public string Tidy(DateTimeOffset now, bool isClockTrusted)
    {
        lock (_tidied)
            _tidied.Add((now, isClockTrusted));
        return TidyingBreaks is { } problem ? throw problem : "";
    }

    public void Dispose()
    {
    }
}
