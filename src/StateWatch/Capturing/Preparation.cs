using StateWatch.Core.Capturing;

namespace StateWatch.Capturing;

/// <summary>Looks at the desk until nothing is open any more, and has confirmed what the desk does not tell.</summary>
internal static class Preparation
{
    /// <summary>Comes back when everything is as it must be.</summary>
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
