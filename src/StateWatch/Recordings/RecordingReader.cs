using System.Text.Json;
using StateWatch.Core.Links;

namespace StateWatch.Recordings;

/// <summary>What <see cref="RecordingReader.Next"/> came to.</summary>
internal enum RecordedStep : byte
{
    /// <summary>The recording ended: <see cref="RecordingReader.End"/> says how.</summary>
    End,

    /// <summary>A whole batch.</summary>
    Batch,

    /// <summary>What came about was taken.</summary>
    Taken,

    /// <summary>The watch ended in order.</summary>
    WatchEnded,

    /// <summary>There was no room for more of the recording.</summary>
    Full,
}

/// <summary>
/// Reads a recording, which may be anything: bounded, never throwing for what it holds, and up to its last whole batch where it was cut off.
/// </summary>
internal sealed class RecordingReader : IDisposable
{
    /// <summary>The most bytes that are read unless somebody says otherwise, before compression.</summary>
    public const long MostBytes = 8L * 1024 * 1024 * 1024;

    // A real link's clock says nanoseconds, a virtual one ticks of 100 ns.
    private const long MostFrequency = 1_000_000_000;

    private readonly RecordingEntries _entries;
    private readonly SeenDatagrams _seen = new();
    private RecordingMoments _moments;
    private bool _isInBatch;

    private RecordingReader(Stream stream, long most) => _entries = new RecordingEntries(stream, most);

    /// <summary>What it begins with; null when it is no recording.</summary>
    public RecordingHeader? Header { get; private set; }

    /// <summary>The moment at which the watch was made.</summary>
    public RecordedMoment Began { get; private set; }

    /// <summary>The last batch.</summary>
    public RecordedBatch Batch { get; } = new();

    /// <summary>What was handed over, as lines.</summary>
    public IReadOnlyList<string> Taken { get; private set; } = [];

    /// <summary>When and by whom the watch was ended.</summary>
    public (RecordedMoment At, string By) Ended { get; private set; }

    /// <summary>How it ended.</summary>
    public RecordingEnd End => _entries.End;

    /// <summary>What is wrong where it is broken, with the byte (before compression).</summary>
    public string Fault => $"{_entries.Fault} (at byte {_entries.Position:N0} of what it unpacks to)";

    /// <summary>Opens one and reads its header.</summary>
    /// <param name="stream">The stream; closed at the end.</param>
    /// <param name="most">The most bytes that are read, before compression.</param>
    public static RecordingReader Open(Stream stream, long most = MostBytes)
    {
        var reader = new RecordingReader(stream, most);
        if (!reader.TryBegin())
            reader.Header = null;
        return reader;
    }

    /// <summary>Goes on to the next whole batch, or to what happened between two.</summary>
    public RecordedStep Next()
    {
        while (Header is not null && _entries.TryRead())
        {
            var cursor = new EntryCursor(_entries.Payload);
            var isOfBatch = _entries.Kind is EntryKind.Order or EntryKind.Datagram or EntryKind.DatagramAgain or EntryKind.Counted or EntryKind.BatchEnded;
            if (isOfBatch != _isInBatch || !TryTake(ref cursor))
            {
                _ = Break($"an entry of kind {(byte)_entries.Kind} is not as it should be");
                return RecordedStep.End;
            }

            switch (_entries.Kind)
            {
                case EntryKind.BatchEnded:
                    return RecordedStep.Batch;
                case EntryKind.Taken:
                    return RecordedStep.Taken;
                case EntryKind.WatchEnded:
                    return RecordedStep.WatchEnded;
                case EntryKind.Full:
                    return RecordedStep.Full;
                default:
                    break;
            }
        }

        return RecordedStep.End;
    }

    /// <summary>It is broken here.</summary>
    public bool Break(string fault) => _entries.Break(fault);

    public void Dispose() => _entries.Dispose();

    private bool TryBegin()
    {
        if (!_entries.TryRead())
            return _entries.End == RecordingEnd.Broken ? false : Break("there is no whole header: it is no recording, or was cut off in its first moment");
        if (_entries.Kind != EntryKind.Header)
            return Break("it does not begin with a header");
        Header = Json(_entries.Payload, RecordingJson.Default.RecordingHeader, out var problem);
        if (Header is null)
            return Break($"its header cannot be read: {Core.Reports.PlainText.Clean(problem, 300)}");
        if (Header.Format != RecordingHeader.CurrentFormat)
            return Break($"it is written as '{Core.Reports.PlainText.Clean(Header.Format, 80)}', and {RecordingHeader.CurrentFormat} is read");
        if (Header.Frequency is < 1000 or > MostFrequency || Header.Plan.Files.Count < 2 || Header.Desk.Length == 0 || (Header.Phase is { } phase && !Enum.IsDefined(phase)))
            return Break("its header says what cannot be");
        if (!Header.IsOfOneDesk)
            return Break("what its header says was remembered is of another desk");
        _moments = new RecordingMoments(Header.Frequency);
        if (!_entries.TryRead() || _entries.Kind != EntryKind.WatchBegan)
            return Break("it does not say when the watch began");
        var cursor = new EntryCursor(_entries.Payload);
        if (!TryMoment(ref cursor, out var began) || !cursor.IsDone)
            return Break("the watch begins at no moment that there is");
        Began = began;
        return true;
    }

    private bool TryTake(ref EntryCursor cursor)
    {
        switch (_entries.Kind)
        {
            case EntryKind.BatchBegan:
                if (!TryMoment(ref cursor, out var began))
                    return false;
                Batch.Begin(began);
                _isInBatch = true;
                return cursor.IsDone;
            case EntryKind.Order:
                return Json(cursor.Bytes(), RecordingJson.Default.RecordedOrder, out _) is { } order && Batch.TryAdd(order, _entries.Payload.Length);
            case EntryKind.Datagram:
                var receivedAt = unchecked(_moments.Timestamp + cursor.Number());
                var datagram = cursor.Bytes();
                _seen.Keep(datagram);
                return cursor.IsSound && TryAdd(datagram, receivedAt);
            case EntryKind.DatagramAgain:
                var receivedAgainAt = unchecked(_moments.Timestamp + cursor.Number());
                return _seen.TryRead(cursor.Number(), out var again) && cursor.IsDone && TryAdd(again, receivedAgainAt);
            case EntryKind.Counted:
                Batch.Counters = new LinkCounters(cursor.Number(), cursor.Number(), cursor.Number(), cursor.Number(), cursor.Number(), cursor.Number());
                return cursor.IsDone;
            case EntryKind.BatchEnded:
                if (!TryMoment(ref cursor, out var ended))
                    return false;
                Batch.Ended = ended;
                _isInBatch = false;
                return cursor.IsDone;
            case EntryKind.Taken:
                Taken = cursor.Text().Split('\n');
                return true;
            case EntryKind.WatchEnded:
                var isMoment = TryMoment(ref cursor, out var at);
                Ended = (at, cursor.Text());
                return isMoment;
            case EntryKind.Full:
                return cursor.IsDone;
            default:
                return false;
        }
    }

    private bool TryAdd(ReadOnlySpan<byte> datagram, long receivedAt) =>
        receivedAt is >= -RecordingMoments.FarthestTimestamp and <= RecordingMoments.FarthestTimestamp && Batch.TryAdd(datagram, receivedAt);

    private bool TryMoment(ref EntryCursor cursor, out RecordedMoment moment)
    {
        moment = default;
        if (!_moments.TryStep(cursor.Number(), cursor.Number()) || !cursor.IsSound)
            return false;
        moment = new RecordedMoment(_moments.Timestamp, new DateTimeOffset(_moments.Wall, TimeSpan.Zero));
        return true;
    }

    private static T? Json<T>(ReadOnlySpan<byte> bytes, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type, out string problem) where T : class
    {
        try
        {
            problem = "it says nothing";
            return JsonSerializer.Deserialize(bytes, type);
        }
        catch (JsonException fault)
        {
            problem = fault.Message;
            return null;
        }
    }
}
