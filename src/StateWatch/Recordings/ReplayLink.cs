using StateWatch.Core.Links;

namespace StateWatch.Recordings;

/// <summary>
/// A link that plays recorded batches, one each time it is listened to, on a clock that shows the recorded moments. Nobody is asked anything. It does not
/// ask whether the receiver is full: where a batch ended was decided when it was recorded.
/// </summary>
internal sealed class ReplayLink : IDeskReader
{
    private readonly ReplayClock _clock;
    private RecordedBatch? _batch;

    /// <summary>Makes one.</summary>
    /// <param name="desk">Where the desk was.</param>
    /// <param name="frequency">Ticks a second of the recorded clock.</param>
    /// <param name="began">The moment at which the watch was made.</param>
    public ReplayLink(string desk, long frequency, RecordedMoment began) => (Desk, _clock) = (desk, new ReplayClock(frequency) { Now = began });

    /// <inheritdoc/>
    public string Desk { get; }

    /// <inheritdoc/>
    public LinkCounters Counters { get; private set; }

    /// <inheritdoc/>
    public TimeProvider Clock => _clock;

    /// <summary>Puts in the next batch, and shows the moment at which it began.</summary>
    public void Play(RecordedBatch batch) => (_batch, _clock.Now, Counters) = (batch, batch.Began, batch.Counters);

    /// <summary>Shows a moment.</summary>
    public void Show(RecordedMoment moment) => _clock.Now = moment;

    /// <inheritdoc/>
    public bool Ask(int question) => true;

    /// <inheritdoc/>
    public int Receive(long deadline, IDatagramReceiver receiver)
    {
        if (_batch is not { } batch)
            return 0;
        _batch = null;
        batch.HandOver(receiver);
        _clock.Now = batch.Ended;
        return batch.Count;
    }

    /// <inheritdoc/>
    public void Dispose() => _batch = null;

    private sealed class ReplayClock(long frequency) : TimeProvider
    {
        public RecordedMoment Now { get; set; }

        public override long TimestampFrequency => frequency;

        public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

        public override long GetTimestamp() => Now.Timestamp;

        public override DateTimeOffset GetUtcNow() => Now.Wall;

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            throw new NotSupportedException("Time that was recorded has no timers.");
    }
}
