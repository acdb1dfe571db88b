using System.Reflection;
using System.Text.Json;
using StateWatch.Core.Findings;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>Records a watch from its first batch on: everything by which it decides, and what it handed over.</summary>
internal sealed class RecordingWriter : IWatchTape, IDisposable
{
    private const int BlockBytes = 60_000;

    private readonly EntryBuffer _entries = new();
    private readonly SeenDatagrams _seen = new();
    private readonly IRecordingTarget _target;
    private readonly long _patience;
    private RecordingMoments _moments;
    private long _handedOver;

    /// <summary>Begins a recording.</summary>
    /// <param name="target">Where to; closed at the end.</param>
    /// <param name="header">What the watch is made of.</param>
    /// <param name="patience">After how many seconds what was written is handed over; that much is lost when the program dies. Each time costs some bytes.</param>
    public RecordingWriter(IRecordingTarget target, RecordingHeader header, int patience = 2)
    {
        (_target, _patience, _moments) = (target, patience * header.Frequency, new RecordingMoments(header.Frequency));
        _entries.Add(JsonSerializer.SerializeToUtf8Bytes(header, RecordingJson.Default.RecordingHeader)).End(EntryKind.Header);
    }

    /// <summary>The header of a watch that begins.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="plan">Its plan; with its texts.</param>
    /// <param name="reader">Its link.</param>
    /// <param name="sinks">Those who are told.</param>
    /// <param name="stored">What was stored of the desk, or null.</param>
    /// <param name="phase">The phase to begin with, or null.</param>
    public static RecordingHeader HeaderOf(string desk, WatchedPlan plan, IDeskReader reader, IReadOnlyList<LedgerSink> sinks, StoredDesk? stored, Phase? phase) =>
        new(RecordingHeader.CurrentFormat, typeof(RecordingWriter).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "", desk, reader.Desk,
            reader.Clock.TimestampFrequency, RecordedPlan.Of(plan), [.. sinks.Select(static sink => new RecordedSink(sink.Name, sink.Least))])
        {
            Phase = phase,
            Stored = stored,
        };

    /// <inheritdoc/>
    public void WatchBegan(long timestamp, DateTimeOffset wall)
    {
        Moment(timestamp, wall).End(EntryKind.WatchBegan);
        HandOver();
    }

    /// <inheritdoc/>
    public void BatchBegan(long timestamp, DateTimeOffset wall) => Moment(timestamp, wall).End(EntryKind.BatchBegan);

    /// <inheritdoc/>
    public void Order(WatchOrder order) => _entries.Add(JsonSerializer.SerializeToUtf8Bytes(RecordedOrder.Of(order), RecordingJson.Default.RecordedOrder)).End(EntryKind.Order);

    /// <inheritdoc/>
    public void Datagram(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        _entries.Add(unchecked(receivedAt - _moments.Timestamp));
        if (_seen.TryFind(datagram, out var step))
        {
            _entries.Add(step).End(EntryKind.DatagramAgain);
            return;
        }

        _seen.Keep(datagram);
        _entries.Add(datagram).End(EntryKind.Datagram);
    }

    /// <inheritdoc/>
    public void Counted(in LinkCounters counters) =>
        _entries.Add(counters.Sent).Add(counters.Received).Add(counters.Foreign).Add(counters.Dropped).Add(counters.TooLong).Add(counters.Refused).End(EntryKind.Counted);

    /// <inheritdoc/>
    public void BatchEnded(long timestamp, DateTimeOffset wall)
    {
        Moment(timestamp, wall).End(EntryKind.BatchEnded);
        if (_entries.Written.Length >= BlockBytes || timestamp - _handedOver >= _patience)
            HandOver();
    }

    /// <inheritdoc/>
    public void Taken(WatchOutput output) => _entries.Add(string.Join('\n', OutputLines.Of(output))).End(EntryKind.Taken);

    /// <inheritdoc/>
    public void WatchEnded(long timestamp, DateTimeOffset wall, string by) => Moment(timestamp, wall).Add(by).End(EntryKind.WatchEnded);

    /// <summary>Ends the recording.</summary>
    public void Dispose()
    {
        try
        {
            HandOver();
        }
        finally
        {
            _target.Dispose();
        }
    }

    private EntryBuffer Moment(long timestamp, DateTimeOffset wall)
    {
        var (step, uneven) = _moments.Step(timestamp, wall.UtcTicks);
        return _entries.Add(step).Add(uneven);
    }

    private void HandOver()
    {
        if (_entries.Written.IsEmpty)
            return;
        _target.Take(_entries.Written);
        _entries.Clear();
        _handedOver = _moments.Timestamp;
    }
}
