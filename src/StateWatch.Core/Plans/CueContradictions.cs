using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// Whether a desk that is exactly as planned could be at the cue at all: something open whose planned fader is down, something closed that
/// the cue's own line unmutes. An error that names both places.
/// </summary>
internal sealed class CueContradictions(ShowPlan plan, PlannedCue cue, DiagnosticBag diagnostics)
{
    public void Run()
    {
        foreach (var opening in cue.Open)
        {
            var blocks = opening.Strips.Select(strip => Block(strip, opening.Width)).ToList();
            if (blocks.TrueForAll(block => block is not null))
                Report(opening.Said, opening.Strips[0], "open", blocks[0]!);
        }

        foreach (var closing in cue.Closed)
        {
            if (Way(closing) is { } way)
                Report(closing.Said, closing.Strip, "closed", way);
        }
    }

    // What keeps it closed, as planned at this cue.
    private Expectation? Block(PlannedStrip strip, int width)
    {
        var gates = StripGates.Of(plan.Profile, strip.Strip);
        if (Said(gates.On, on: false, width) is { } muted)
            return muted;
        foreach (var (setting, _) in gates.Closing(id => plan.For(id)?.High))
            return plan.For(setting);
        return null;
    }

    // What leaves no way to close it, as planned at this cue.
    private Expectation? Way(CueClosing closing)
    {
        var gates = StripGates.Of(plan.Profile, closing.Strip.Strip);
        if (gates.Closing(id => plan.For(id)?.High).Any())
            return null;
        var fader = gates.On < 0 && plan.For(gates.Fader) is { } planned && !StripGates.IsDown(planned.Low) ? planned : null;
        return Said(gates.On, on: true, closing.Width) ?? fader;
    }

    // What a line of the cue says of a mute, unless the name under open or closed is narrower.
    private Expectation? Said(int mute, bool on, int width)
    {
        foreach (var said in mute < 0 ? [] : plan.StatementsOf(mute))
        {
            if (said.Rank is >= Ranks.Cue and < Ranks.CueOpen && said.Planned.IsOn == on && Ranks.WidthOf(said.Rank) <= width)
                return said;
        }

        return null;
    }

    private void Report(ScalarNode said, PlannedStrip strip, string state, Expectation by) => diagnostics.Add(PlanCodes.Conflict, said.At,
        $"{strip.Name} is {state} here, but {plan.Profile.Settings[by.Setting].Path} is {plan.Profile.Format(by.Planned)} at {by.At.Place}, and neither line outweighs the other", "keep one of the two");
}
