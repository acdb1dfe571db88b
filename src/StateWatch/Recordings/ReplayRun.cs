using StateWatch.Core.Findings;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>Plays a recording to a fresh watch and compares what it hands over with what was handed over then.</summary>
internal sealed class ReplayRun
{
    private readonly RecordingReader _reader;
    private readonly RecordedPlans _plans;
    private readonly ReplayLink _link;
    private readonly DeskWatch _watch;
    private readonly ReplayResult _result;
    private readonly Action<WatchOutput>? _taken;

    private ReplayRun(RecordingReader reader, RecordedPlans plans, ReplayLink link, DeskWatch watch, ReplayResult result, Action<WatchOutput>? taken) =>
        (_reader, _plans, _link, _watch, _result, _taken) = (reader, plans, link, watch, result, taken);

    /// <summary>Plays it.</summary>
    /// <param name="stream">The recording; closed at the end.</param>
    /// <param name="taken">Gets everything that is handed over, in order; null for nobody.</param>
    /// <returns>What came of it, or only what is wrong with the recording.</returns>
    public static (ReplayResult? Result, string? Fault) Of(Stream stream, Action<WatchOutput>? taken = null)
    {
        using var reader = RecordingReader.Open(stream);
        if (reader.Header is not { } header)
            return (null, reader.Fault);
        try
        {
            var plans = new RecordedPlans();
            if (plans.Read(header.Plan) is not { } plan)
                return (null, plans.Fault);
            var link = new ReplayLink(header.Address, header.Frequency, reader.Began);
            using var watch = new DeskWatch(header.Desk, plan, link, [.. header.Sinks.Select(static sink => new LedgerSink(sink.Name, sink.Least))], header.Stored, header.Phase)
            {
                // The watch that was recorded went on without it, and had told it then.
                RuleFailed = static (_, _) => { },
            };
            var result = new ReplayResult(header, plan.Document.Zone ?? TimeZoneInfo.Utc) { From = reader.Began.Wall, To = reader.Began.Wall };
            var run = new ReplayRun(reader, plans, link, watch, result, taken);
            run.PlayAll();
            return (result, result.Fault);
        }
#pragma warning disable CA1031 // A header may say what no watch can begin with.
        catch (Exception problem) when (problem is not OutOfMemoryException)
#pragma warning restore CA1031
        {
            return (null, Failed(problem));
        }
    }

    private void PlayAll()
    {
        try
        {
            while (_result.Fault is null && PlayOne())
            {
            }
        }
#pragma warning disable CA1031 // A recording may make a watch fail: one that was tampered with, or one of a watch that failed.
        catch (Exception problem) when (problem is not OutOfMemoryException)
#pragma warning restore CA1031
        {
            _result.Fault = $"after {_result.Batches:N0} batches: {Failed(problem)}";
            return;
        }

        // What was not handed over then came about all the same.
        if (_watch.Take() is { } rest)
            Keep(rest);
        _result.Status = _watch.Status;
    }

    private bool PlayOne()
    {
        switch (_reader.Next())
        {
            case RecordedStep.Batch:
                Play(_reader.Batch);
                return true;
            case RecordedStep.Taken:
                Compare(_reader.Taken, _watch.Take());
                return true;
            case RecordedStep.WatchEnded:
                _link.Show(_reader.Ended.At);
                _watch.End(_reader.Ended.By);
                (_result.To, _result.Cut) = (_reader.Ended.At.Wall, "");
                return true;
            case RecordedStep.Full:
                _result.Cut = "the recording ends where it was as large as it may be, or its disk too full; the rest of the watch is missing";
                return true;
            default:
                if (_reader.End == RecordingEnd.Broken)
                    _result.Fault = _reader.Fault;
                _result.Cut = _reader.End == RecordingEnd.Cut ? "the recording was cut off in the middle of an entry, which was left out"
                    : _result.Cut ?? "the recording stops without an end, as one does whose program was killed";
                _result.Cut = _result.Cut.Length == 0 ? null : _result.Cut;
                return false;
        }
    }

    private void Play(RecordedBatch batch)
    {
        foreach (var recorded in batch.Orders)
        {
            if (recorded.ToOrder(_plans.Read) is not { } order)
            {
                _result.Fault = _plans.Fault ?? $"the order after {_result.Batches:N0} batches does not say what it must";
                return;
            }

            _watch.Order(order);
        }

        _link.Play(batch);
        _watch.Next(TimeSpan.Zero);
        _result.Batches++;
        _result.Orders += batch.Orders.Count;
        _result.Datagrams += batch.Count;
        _result.To = batch.Ended.Wall;
    }

    private void Compare(IReadOnlyList<string> recorded, WatchOutput? output)
    {
        if (output is not null)
            Keep(output);
        if (_result.Difference is not null)
            return;
        List<string> replayed = output is null ? [] : OutputLines.Of(output);
        for (var line = 0; line < Math.Max(recorded.Count, replayed.Count); line++)
        {
            var (then, now) = (recorded.ElementAtOrDefault(line), replayed.ElementAtOrDefault(line));
            if (then == now)
                continue;
            var difference = $"at {_result.To:O}, after {_result.Batches:N0} batches: recorded was {Shown(then)}, replayed is {Shown(now)}";
            // What is stored may differ where nothing that is told or in a journal ever does.
            if (IsRest(then) && IsRest(now))
            {
                _result.RestDifference ??= difference;
                continue;
            }

            _result.Difference = difference;
            return;
        }
    }

    private void Keep(WatchOutput output)
    {
        _result.Told.AddRange(output.Alerts);
        _taken?.Invoke(output);
    }

    private static bool IsRest(string? line) => line?.StartsWith(OutputLines.Rest, StringComparison.Ordinal) ?? false;

    private static string Shown(string? line) => line is null ? "nothing"
        : IsRest(line) ? $"the rest (ledger, findings, changes of settings, coverage) {PlainText.Clean(line[OutputLines.Rest.Length..], 16)}" : PlainText.Clean(line, 600);

    private static string Failed(Exception problem) => PlainText.Clean($"the watch failed with it ({problem.GetType().Name}: {problem.Message})", 400);
}
