using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// How many orders of messages a desk takes. Making another plan hold costs milliseconds, and a flood must not keep a loop from its desk; but what a show
/// sends at one moment (a phase and its first cue) is all meant. For one thread.
/// </summary>
/// <param name="clock">The time.</param>
internal sealed class MessagePace(TimeProvider clock)
{
    /// <summary>So many at once; above that one in each <see cref="Between"/>. Starting value.</summary>
    public const int AtOnce = 10;

    /// <summary>How soon another one may come, and within which the same one again is an echo. Starting value.</summary>
    public static readonly TimeSpan Between = TimeSpan.FromMilliseconds(100);

    private readonly Dictionary<string, Desk> _desks = new(StringComparer.Ordinal);

    /// <summary>Whether an order is to be given.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="order">The order; messages that mean the same give the same object.</param>
    public MessageAdmission Ask(string desk, WatchOrder order)
    {
        var now = clock.GetTimestamp();
        if (!_desks.TryGetValue(desk, out var known))
            _desks.Add(desk, known = new Desk { Left = AtOnce, At = now });
        var since = clock.GetElapsedTime(known.At, now);
        known.Left = Math.Min(AtOnce, known.Left + since / Between);
        known.At = now;
        // Whoever sends each message twice or thrice, since datagrams get lost, means it once.
        if (ReferenceEquals(known.Last, order) && clock.GetElapsedTime(known.LastAt, now) < Between)
            return MessageAdmission.Echo;
        if (known.Left < 1)
        {
            var isFirst = !known.IsFlooded;
            known.IsFlooded = true;
            return isFirst ? MessageAdmission.FirstTooMany : MessageAdmission.TooMany;
        }

        known.Left--;
        known.IsFlooded &= known.Left < AtOnce - 1;
        (known.Last, known.LastAt) = (order, now);
        return MessageAdmission.Give;
    }

    private sealed class Desk
    {
        public double Left { get; set; }

        public long At { get; set; }

        public WatchOrder? Last { get; set; }

        public long LastAt { get; set; }

        public bool IsFlooded { get; set; }
    }
}

/// <summary>What becomes of a message.</summary>
internal enum MessageAdmission : byte
{
    /// <summary>Its order is given.</summary>
    Give,

    /// <summary>It was sent more than once and is given already.</summary>
    Echo,

    /// <summary>Too many came; it is the first that is left out, so that is told.</summary>
    FirstTooMany,

    /// <summary>Too many came.</summary>
    TooMany,
}
