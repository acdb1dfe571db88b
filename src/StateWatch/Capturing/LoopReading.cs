using StateWatch.Commands;
using StateWatch.Core.Capturing;
using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Core.Reports;

namespace StateWatch.Capturing;

/// <summary>Reads one loop of a live desk: all of it when asked to, and parts of it ten times a second at most.</summary>
internal sealed class LoopReading(LoopWatch watch, IDeskReader reader, CancellationToken cancel)
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(100);

    private readonly DeskState _state = new(watch.Plan.Profile);
    private readonly long _start = reader.Clock.GetTimestamp();
    private long _last;

    /// <summary>The loop.</summary>
    public LoopWatch Watch => watch;

    /// <summary>Cancelled by Ctrl-C.</summary>
    public CancellationToken Cancel => cancel;

    /// <summary>Reads everything.</summary>
    /// <exception cref="CommandException">The desk is silent or another one, or something a way hangs on was not seen (exit 3).</exception>
    public void ReadAll()
    {
        var read = Read(watch.Everything);
        if (read.End is ReadEnd.Silent or ReadEnd.FellSilent)
            throw CannotTell($"{watch.Plan.Profile.Desk} at {reader.Desk} {(read.End is ReadEnd.Silent ? "is silent" : "fell silent")}.");
        if (read.End is ReadEnd.AnotherDesk)
            throw CannotTell($"another desk answers at {reader.Desk}: {string.Join(' ', read.Identity.Select(word => PlainText.Clean(word, 60)))}.");
        watch.Take(_state);
        if (watch.Unseen.Count > 0)
            throw CannotTell($"the way hangs on what was not seen: {string.Join(", ", watch.Unseen.Take(8).Select(id => watch.Plan.Profile.Settings[id].Path))}{(watch.Unseen.Count > 8 ? $" and {watch.Unseen.Count - 8} more" : "")}.");
    }

    /// <summary>Reads what lies on the ways.</summary>
    public LoopSample ReadGain()
    {
        var read = Read(watch.OnTheWay);
        return watch.Follow(reader.Clock.GetElapsedTime(_start), _state, read.End);
    }

    /// <summary>Reads the meters at both ends.</summary>
    public NoiseSample ReadLevels()
    {
        var read = Read([.. watch.Meters.Settings]);
        return watch.Meters.Read(_state, read.End);
    }

    /// <summary>The end without an answer.</summary>
    public static CommandException CannotTell(string why) => new(ExitCodes.Incomplete, $"statewatch: CANNOT TELL: {why}");

    private ReadReport Read(IReadOnlyList<int> settings)
    {
        var wait = Pace - reader.Clock.GetElapsedTime(_last);
        if (_last != 0 && wait > TimeSpan.Zero)
            cancel.WaitHandle.WaitOne(wait);
        cancel.ThrowIfCancellationRequested();
        _last = reader.Clock.GetTimestamp();
        var report = new FullRead(watch.Plan.Profile, _state, reader, settings).Run(null, cancel);
        cancel.ThrowIfCancellationRequested();
        // Few questions are given up before the whole desk is.
        return report.Answered == 0 && report.Questions > 0 && report.End == ReadEnd.Partial ? report with { End = ReadEnd.Silent } : report;
    }
}
