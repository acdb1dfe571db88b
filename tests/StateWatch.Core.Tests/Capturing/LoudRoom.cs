using StateWatch.Core.Capturing;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>
/// A desk, a room and a person in virtual time. The room rings as soon as the desk's gain less the loss reaches 0 dB (Nyquist: a loop of unity gain sustains itself); the person steps up, listens, and
/// mutes a moment after it rings. Readings are taken ten times a second.
/// </summary>
internal sealed class LoudRoom(RingOut ring, double loss)
{
    public static readonly TimeSpan Reading = TimeSpan.FromMilliseconds(100);

    private TimeSpan _now;

    /// <summary>How long the person listens after a step.</summary>
    public TimeSpan Listens { get; init; } = TimeSpan.FromSeconds(3);

    /// <summary>How long it takes to mute.</summary>
    public TimeSpan Reaction { get; init; } = TimeSpan.FromMilliseconds(400);

    public double Step { get; init; } = 1;

    /// <summary>Everything but moves that was told, in order.</summary>
    public List<RingOutEvent> Told { get; } = [];

    public RingOutEvent Read(double gain, double? unmuted = null, string? fault = null)
    {
        _now += Reading;
        var told = ring.Take(new LoopSample(_now, gain, unmuted ?? gain, fault));
        if (told is not (RingOutEvent.None or RingOutEvent.Moved))
            Told.Add(told);
        return told;
    }

    public void Pause(TimeSpan time) => _now += time;

    public void Hold(double gain, TimeSpan time)
    {
        for (var end = _now + time; _now < end && !ring.HasEnded;)
            Read(gain);
    }

    /// <summary>One round from a gain up: until it rang and was muted, or the round ended otherwise.</summary>
    public RingOutEvent Round(double from)
    {
        Read(double.NegativeInfinity, from);
        for (var gain = from; !ring.HasEnded; gain += Step)
        {
            Hold(gain, gain >= loss ? Reaction : Listens);
            if (gain < loss || ring.HasEnded)
                continue;
            Assert.Equal(RingOutEvent.Muted, Read(double.NegativeInfinity, gain));
            var told = ring.Answer(rang: true);
            Told.Add(told);
            return told;
        }

        return Told[^1];
    }
}
