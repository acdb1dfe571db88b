using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Hosting;

/// <summary>Remembers what was committed; fails when told to.</summary>
internal sealed class RecordingHistory : IWatchHistory
{
    private readonly List<IReadOnlyList<WatchOutput>> _commits = [];

    public bool Fails { get; set; }

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

    public StoredDesk? Load(string desk) => Fails ? throw new HistoryException("the file is damaged") : null;

    public void Commit(IReadOnlyList<WatchOutput> outputs)
    {
        if (Fails)
            throw new HistoryException("the disk is full");
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

    public string Tidy(DateTimeOffset now) => "";

    public void Dispose()
    {
    }
}
