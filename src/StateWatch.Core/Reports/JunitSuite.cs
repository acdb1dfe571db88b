namespace StateWatch.Core.Reports;

/// <summary>How a case of a JUnit report ended; a case is at most one of skipped, error and failure.</summary>
internal enum JunitOutcome
{
    Passed,
    Skipped,
    Error,
    Failure,
}

/// <summary>One case of a JUnit report.</summary>
/// <param name="Name">What was looked at: a strip, or the id of a finding.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Type">Kind of failure or error, such as a rule's id.</param>
/// <param name="Message">One sentence for lists.</param>
/// <param name="Text">The whole, in lines.</param>
internal sealed record JunitCase(string Name, JunitOutcome Outcome = JunitOutcome.Passed, string Type = "", string Message = "", string Text = "");

/// <summary>One suite of a JUnit report.</summary>
/// <param name="Name">Its name; its cases' class name ends in it.</param>
/// <param name="Properties">Names and values.</param>
/// <param name="Cases">Its cases, in a stable order.</param>
/// <param name="Out">Text beside the cases.</param>
/// <param name="Time">How long it took.</param>
internal sealed record JunitSuite(string Name, IReadOnlyList<(string Name, string Value)> Properties, IReadOnlyList<JunitCase> Cases, string Out, TimeSpan Time)
{
    public int Count(JunitOutcome outcome) => Cases.Count(item => item.Outcome == outcome);
}
