using StateWatch.Core.Capturing;

namespace StateWatch.Capturing;

/// <summary>Measures a loop with quiet noise: the loudspeaker plays, the microphone listens, and there is no loop.</summary>
internal sealed class NoiseCapture(LoopReading reading, DeskHand hand)
{
    /// <summary>The loss, in dB.</summary>
    /// <exception cref="Commands.CommandException">There is none.</exception>
    public double Run()
    {
        var (microphone, feed) = (reading.Watch.Microphone.Name, reading.Watch.Loudspeaker.Words);
        reading.ReadAll();
        if (reading.Watch.Meters.Lacks is { } lacks)
            throw LoopReading.CannotTell($"{lacks} So it cannot be measured with noise here; --ring-out can, in trained hands.");
        Preparation.Note(reading, hand);
        hand.Tell("Now at the desk:");
        hand.TellSteps(CaptureWords.BeforeNoise(microphone, feed));
        Preparation.Run(reading, hand, LoopChecks.BeforeNoise);

        var noise = new NoiseReading();
        hand.Await($"No noise yet, and nobody speaks. Press Enter to read the background at {microphone}.");
        Take(noise);
        hand.Tell($"Background at the socket {CaptureWords.Level(noise.Background)}. It must rise by {NoiseReading.LeastRise:0} dB; more is not needed.");
        hand.Await($"Pink noise to {feed} alone, slowly up from the bottom of its fader. Press Enter when it is steady and everybody is still.");
        while (!noise.HasEnded)
        {
            if (Take(noise) is NoiseEvent.Kept or NoiseEvent.Captured)
                hand.Tell($"Reading {noise.Losses.Count} of {NoiseReading.Wanted}: {CaptureWords.Level(noise.Losses[^1])} of loss.");
        }

        hand.Tell("Noise off now, and the feed's fader down.");
        if (noise.Why is { } why)
            throw DeskHand.Ended(why);
        reading.ReadAll();
        if (LoopChecks.BeforeNoise(reading.Watch).Open is [var first, ..])
            throw DeskHand.Ended($"the desk changed while it was measured: {first}");
        return noise.Loss!.Value;
    }

    private NoiseEvent Take(NoiseReading noise)
    {
        NoiseEvent told;
        do
        {
            told = noise.Take(reading.ReadLevels());
        }
        while (told == NoiseEvent.None);

        return told == NoiseEvent.Void ? throw DeskHand.Ended($"{noise.Why} Noise off, and the feed's fader down") : told;
    }
}
