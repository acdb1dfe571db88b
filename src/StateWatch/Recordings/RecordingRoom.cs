namespace StateWatch.Recordings;

/// <summary>How much room a recording has: a size of its own, and what its disk has to spare. A history is worth more than any recording, so that one's reserve is never touched.</summary>
/// <param name="most">How many bytes it may have.</param>
/// <param name="leastFree">How many bytes must stay free on its disk.</param>
/// <param name="free">How many are; null when nobody looks.</param>
internal sealed class RecordingRoom(long most = long.MaxValue, long leastFree = 0, Func<long>? free = null)
{
    /// <summary>How much more than the history's reserve stays free, in bytes: more than all desks write between two looks, so that the history is never tidied for a recording.</summary>
    public const long Margin = 100_000_000;

    private const long BetweenLooks = 4_000_000;

    private long _nextLook;

    /// <summary>Why there is no room for more; null when there is.</summary>
    /// <param name="written">How many bytes it has.</param>
    /// <param name="more">How many are to come.</param>
    public RecordingStop? Refuse(long written, long more)
    {
        if (written + more > most)
            return RecordingStop.AsLargeAsAllowed(most);
        if (free is null || written < _nextLook)
            return null;
        _nextLook = written + BetweenLooks;
        var left = free();
        return left <= leastFree ? RecordingStop.DiskTooFull(left, leastFree) : null;
    }
}
