using StateWatch.Core.Capturing;

namespace StateWatch.Capturing;

/// <summary>What comes before a measurement: the room, the setup of the show, and a desk on which nothing is open any more.</summary>
internal static class Preparation
{
    /// <summary>Has the room confirmed and notes the setup of the show.</summary>
    public static void Note(LoopReading reading, DeskHand hand)
    {
        hand.TellSteps(CaptureWords.Before(reading.Watch.Microphone.Name));
        hand.Require("Is all of that so?");
        reading.ReadAll();
        reading.Watch.NoteSetup();
        hand.Tell($"Setup of the show noted{(reading.Watch.NotedSetup is { } print ? $": {print}" : ", but without a fingerprint: not all of it was seen")}.");
    }

    /// <summary>Comes back when everything on the desk is as it must be, and what it does not tell is confirmed.</summary>
    public static void Run(LoopReading reading, DeskHand hand, Func<LoopWatch, LoopChecks> look)
    {
        while (true)
        {
            hand.Await("Press Enter to have the desk looked at.");
            reading.ReadAll();
            var checks = look(reading.Watch);
            if (checks.Open.Count == 0)
            {
                hand.Tell("Nothing is open any more, as far as this desk tells.");
                if (checks.Look.Count > 0)
                {
                    hand.Tell("Look yourself:");
                    hand.TellSteps(checks.Look);
                    hand.Require("Is that so?");
                }

                return;
            }

            hand.Tell("Still open:");
            hand.TellSteps(checks.Open);
        }
    }
}
