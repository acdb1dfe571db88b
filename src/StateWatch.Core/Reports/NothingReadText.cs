using StateWatch.Core.Desks;

namespace StateWatch.Core.Reports;

/// <summary>The volunteer's text when nothing could be judged: no answer, another desk, or a plan that names nothing.</summary>
internal static class NothingReadText
{
    public static void Write(TextPage page, SweepResult result)
    {
        var subject = result.Subject;
        var desk = subject.Plan.Profile.Desk;
        var simulated = subject.Simulated ? "SIMULATED DESK. " : "";
        if (result.Planned == 0)
        {
            page.Add($"{simulated}NOTHING WAS CHECKED: the plan '{subject.Plan.Show}' names no setting of this desk.", "", 3);
            page.Add("Is this the right plan? Call the engineer.");
            return;
        }

        if (result.Read.End == ReadEnd.AnotherDesk)
            WriteAnother(page, result, desk, simulated);
        else
            WriteSilent(page, result, desk, simulated);
        if (TryOut.Of(result, page.Width, first: false) is { } test)
            page.Add(test.Line, "", 3);
        page.Add("Not sure? Call the engineer. Do not touch gain, phantom power or patch.", "", 3);
    }

    private static void WriteSilent(TextPage page, SweepResult result, string desk, string simulated)
    {
        page.Add($"{simulated}NO ANSWER FROM THE DESK. Nothing was checked; nobody can say whether it is ready.", "", 3);
        page.Add(result.Link.Refused > 0
            ? $"Asked for: {desk} at {result.Subject.DeskAddress}. The network says that no desk listens there. Check, in order:"
            : $"Asked for: {desk} at {result.Subject.DeskAddress}. Not one reply came. Check, in order:", "", 3);
        WriteSteps(page,
            "Is the desk switched on, and has it finished starting?",
            "Is the network cable in at both ends, with a light at each?",
            $"Is {result.Subject.DeskAddress} really this desk's address? Read it on the desk; do not change it there.",
            "Then run the sweep again.");
        page.Add("Seen: 0 %, none of the planned settings. Every feed: not certain. Your ears are the only check now.", "", 3);
    }

    private static void WriteAnother(TextPage page, SweepResult result, string desk, string simulated)
    {
        var says = string.Join(" ", result.Read.Identity);
        page.Add($"{simulated}ANOTHER DESK ANSWERED. Nothing was checked; nobody can say whether it is ready.", "", 3);
        page.Add($"Asked for: {desk} at {result.Subject.DeskAddress}. What answers there says it is '{PlainText.Clean(says, 60)}'. Check, in order:", "", 3);
        WriteSteps(page,
            $"Is {result.Subject.DeskAddress} the address of the desk you stand at?",
            $"Is '{result.Subject.Plan.Show}' the right show for this desk?",
            "Was the desk exchanged, or its software updated? Then call the engineer.",
            "Then run the sweep again.");
        page.Add("Seen: 0 %, none of the planned settings. Every feed: not certain. Your ears are the only check now.", "", 3);
    }

    private static void WriteSteps(TextPage page, params string[] steps)
    {
        for (var i = 0; i < steps.Length; i++)
            page.Add(steps[i], VolunteerText.Number(i), 4);
    }
}
