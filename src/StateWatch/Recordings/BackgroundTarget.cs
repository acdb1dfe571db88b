using System.Collections.Concurrent;

namespace StateWatch.Recordings;

/// <summary>Hands a recording on by a thread of its own, so that whoever records never waits for a disk. When that fails it is told once, and the rest is dropped.</summary>
internal sealed class BackgroundTarget : IRecordingTarget
{
    // Some minutes of a busy desk.
    private const int MostBlocks = 256;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    private readonly BlockingCollection<byte[]> _blocks = new(MostBlocks);
    private readonly RecordingStream _target;
    private readonly Action<string> _ended;
    private readonly Thread _thread;
    private volatile bool _isOver;

    /// <summary>Begins one.</summary>
    /// <param name="target">Where to; closed at the end.</param>
    /// <param name="ended">Told, from any thread and once at the most, why nothing more is recorded.</param>
    public BackgroundTarget(RecordingStream target, Action<string> ended)
    {
        (_target, _ended) = (target, ended);
        _thread = new Thread(Run) { IsBackground = true, Name = "recording" };
        _thread.Start();
    }

    public void Take(ReadOnlySpan<byte> entries)
    {
        if (!_isOver && !_blocks.TryAdd(entries.ToArray()))
            GiveUp("the disk takes less than comes in");
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
            using (_target)
            {
                foreach (var block in _blocks.GetConsumingEnumerable())
                {
                    if (_isOver)
                        continue;
                    _target.Take(block);
                    if (_target.IsFull)
                        GiveUp("it is as large as it may be");
                }
            }
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or ObjectDisposedException)
        {
            GiveUp(problem.Message);
        }
    }

    private void GiveUp(string why)
    {
        if (_isOver)
            return;
        _isOver = true;
        _ended(why);
    }
}
