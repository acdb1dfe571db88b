using System.Collections.Concurrent;

namespace StateWatch.Recordings;

/// <summary>Hands a recording on by a thread of its own, so that whoever records never waits for a disk. When that fails it is told once, and the rest is dropped.</summary>
internal sealed class BackgroundTarget : IRecordingTarget
{
    // Some minutes of a busy desk.
    private const int MostBlocks = 256;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    private readonly BlockingCollection<byte[]> _blocks = new(MostBlocks);
    private readonly Func<(RecordingStream? Stream, RecordingStop? Stop)> _open;
    private readonly Action<RecordingStop> _ended;
    private readonly Thread _thread;
    private bool _isOver;

    /// <summary>Begins one.</summary>
    /// <param name="open">Opens where to, on the thread; else says why not. Closed at the end.</param>
    /// <param name="ended">Told, from any thread and once at the most, why nothing more is recorded.</param>
    public BackgroundTarget(Func<(RecordingStream? Stream, RecordingStop? Stop)> open, Action<RecordingStop> ended)
    {
        (_open, _ended) = (open, ended);
        _thread = new Thread(Run) { IsBackground = true, Name = "recording" };
        _thread.Start();
    }

    /// <summary>Whether nothing more is recorded: what is taken from now on is dropped.</summary>
    public bool IsOver => Volatile.Read(ref _isOver);

    public void Take(ReadOnlySpan<byte> entries)
    {
        if (!IsOver && !_blocks.TryAdd(entries.ToArray()))
            GiveUp(RecordingStop.DiskTooSlow);
    }

    /// <summary>Records nothing more; from any thread.</summary>
    public void GiveUp(RecordingStop why)
    {
        if (!Interlocked.Exchange(ref _isOver, true))
            _ended(why);
    }

    public void Dispose()
    {
        _blocks.CompleteAdding();
        // A disk that hangs keeps the thread, and the thread the collection.
        if (_thread.Join(Patience))
            _blocks.Dispose();
    }

    private void Run()
    {
        try
        {
            var (stream, refused) = _open();
            if (refused is not null)
                GiveUp(refused);
            using (stream)
            {
                foreach (var block in _blocks.GetConsumingEnumerable())
                {
                    // What was taken before is recorded whoever gave up.
                    stream?.Take(block);
                    if (stream?.Stop is { } stop)
                        GiveUp(stop);
                }
            }
        }
#pragma warning disable CA1031 // Whatever it is, a watch goes on that cannot be recorded.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            GiveUp(RecordingStop.Failed(problem));
        }
    }
}
