using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Alerts;

/// <summary>An outbox in memory that fails when told to.</summary>
internal sealed class MemoryHistory : IWatchHistory
{
    private readonly Lock _gate = new();
    private readonly List<WaitingAlert> _rows = [];
    private long _last;

    public bool CannotWrite { get; set; }

    public bool CannotRead { get; set; }

    public List<long> DeliveredRows { get; } = [];

    public List<long> RefusedRows { get; } = [];

    public int Notes { get; private set; }

    public string Place => "memory";

    public void Add(params Alert[] alerts)
    {
        lock (_gate)
        {
            foreach (var alert in alerts)
                _rows.Add(Some.Row(alert, ++_last));
        }
    }

    public StoredDesk? Load(string desk) => null;

    public void Commit(IReadOnlyList<WatchOutput> outputs) => throw new NotSupportedException();

    public IReadOnlyList<WaitingAlert> Waiting(string sink, int most)
    {
        lock (_gate)
            return CannotRead ? throw new HistoryException("it cannot be read") : [.. Of(sink).Take(most)];
    }

    public int CountWaiting(string sink)
    {
        lock (_gate)
            return CannotRead ? throw new HistoryException("it cannot be read") : Of(sink).Count();
    }

    public void Delivered(string sink, IReadOnlyList<long> rows)
    {
        lock (_gate)
        {
            if (CannotWrite)
                throw new HistoryException("the disk is full");
            Notes++;
            DeliveredRows.AddRange(rows);
            _rows.RemoveAll(row => rows.Contains(row.Row));
        }
    }

    public void Refused(string sink, IReadOnlyList<long> rows)
    {
        lock (_gate)
        {
            if (CannotWrite)
                throw new HistoryException("the disk is full");
            RefusedRows.AddRange(rows);
            _rows.RemoveAll(row => rows.Contains(row.Row));
        }
    }

    public int Coalesce(string sink, int most)
    {
        lock (_gate)
        {
            var of = Of(sink).ToArray();
            if (of.Length <= most)
                return 0;
            var newest = of.GroupBy(row => row.Alert.Told.Digest is null ? row.Alert.Told.Key : $"{row.Row}").Select(group => group.Last() with { Gap = group.Count() - 1 }).ToArray();
            _rows.RemoveAll(row => row.Alert.Told.Sink == sink);
            _rows.AddRange(newest.OrderBy(row => row.Row));
            return of.Length - newest.Length;
        }
    }

    public string Tidy(DateTimeOffset now, bool isClockTrusted) => "";

    public void Dispose()
    {
    }

    private IEnumerable<WaitingAlert> Of(string sink) => _rows.Where(row => row.Alert.Told.Sink == sink);
}
