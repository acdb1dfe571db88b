using StateWatch.Core.Capturing;

namespace StateWatch.Capturing;

/// <summary>Measures a loop by following a person who lets it ring twice.</summary>
internal sealed class RingOutCapture(LoopReading reading, DeskHand hand)
{
    /// <summary>The loss, in dB.</summary>
    /// <exception cref="Commands.CommandException">There is none.</exception>
    public double Run()
    {
        var watch = reading.Watch;
        reading.ReadAll();
        hand.Tell(CaptureWords.RingCaution);
        Preparation.Note(reading, hand);
        var (live, planned) = (watch.Unmuted, watch.PlannedGain());
        hand.Tell($"Gain from socket to {watch.Loudspeaker.Words}: {CaptureWords.Level(live)} as it stands unmuted, {CaptureWords.Level(planned)} as planned.");
        var ring = new RingOut(double.IsFinite(live) && double.IsFinite(planned) ? Math.Min(live, planned) : double.IsFinite(live) ? live : planned);
        hand.Tell("Now at the desk:");
        hand.TellSteps(CaptureWords.BeforeRing(watch.Microphone.Name, watch.Loudspeaker.Words));
        while (!ring.HasEnded)
        {
            Preparation.Run(reading, hand, LoopChecks.BeforeRing);
            var ways = watch.OnTheWay.ToHashSet();
            hand.Tell($"Round {ring.Rounds.Count + 1}: bring the level down until the loop is at {CaptureWords.Level(ring.Limit)} or below (now {CaptureWords.Level(watch.Unmuted)}), then unmute {watch.Microphone.Name}.");
            hand.TellSteps(CaptureWords.Round);
            Follow(ring);
            reading.ReadAll();
            if (LoopChecks.AfterRing(watch).Open is [var first, ..])
                throw DeskHand.Ended($"the desk changed during the round: {first}");
            if (watch.OnTheWay.Count > 0 && !ways.SetEquals(watch.OnTheWay))
                throw DeskHand.Ended("the microphone's ways to the feed changed during the round");
        }

        return ring.Loss!.Value;
    }

    private void Follow(RingOut ring)
    {
        while (true)
        {
            switch (ring.Take(reading.ReadGain()))
            {
                case RingOutEvent.TooLoud:
                    hand.Tell($"TOO LOUD to begin: mute, and bring it down to {CaptureWords.Level(ring.Limit)} or below (now {CaptureWords.Level(reading.Watch.Gain)}).");
                    break;
                case RingOutEvent.Began:
                    hand.Tell($"Round {ring.Rounds.Count + 1} has begun at {CaptureWords.Level(ring.Held)}. Speak, wait 3 s, 1 dB up. At the first sustained ring: mute.");
                    break;
                case RingOutEvent.Moved:
                    hand.Tell($"  {CaptureWords.Level(ring.Held)}");
                    break;
                case RingOutEvent.TooFast:
                    hand.Tell($"  {CaptureWords.Level(ring.Held)}  TOO FAST: 1 dB, speak, wait 3 s.");
                    break;
                case RingOutEvent.Void:
                    throw DeskHand.Ended($"mute now. The round is void: {ring.Why}");
                case RingOutEvent.Muted:
                    Keep(ring);
                    return;
            }
        }
    }

    private void Keep(RingOut ring)
    {
        var told = ring.Answer(hand.Confirm($"Brought down at {CaptureWords.Level(ring.Held)}. Did it ring, and does it stay muted now?"));
        if (told is not (RingOutEvent.Kept or RingOutEvent.Captured))
            throw DeskHand.Ended(ring.Why!);
        hand.Tell($"Round {ring.Rounds.Count} of {RingOut.Wanted}: {CaptureWords.Level(ring.Rounds[^1])}.{(told == RingOutEvent.Kept ? $" Once more from {RingOut.BackOff:0} dB below." : "")}");
    }
}
