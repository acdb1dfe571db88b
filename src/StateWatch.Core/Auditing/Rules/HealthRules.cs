namespace StateWatch.Core.Auditing.Rules;

/// <summary>The desk as a whole: show file, oscillator, solo-in-place, external mute, clock, recorder inputs. Common practice, no source.</summary>
internal sealed class HealthRules : IAuditRule
{
    private static readonly (string Path, RuleInfo Rule, string What, string Why, string Do)[] Rows =
    [
        ("desk/show-file", new("wrong-show-file", FindingKind.Risk, SeverityByPhase.Of("WUUU"), "the desk has another show loaded", "{0}"),
            "The desk has the show file '{0}' loaded, planned is '{1}'", "Nothing below can be trusted until the right show is loaded.", "Call the engineer before anything is recalled; everything down first."),
        ("desk/input-bank", new("playback-as-inputs", FindingKind.Risk, SeverityByPhase.Of("NNUU"), "the desk plays a recording instead of its microphones", "{0}"),
            "The desk's inputs come from '{0}', planned is '{1}'", "Live microphones are dead although meters move.", "Main faders down first, then switch the inputs back to the stage."),
        ("desk/oscillator", new("oscillator-on", FindingKind.Risk, SeverityByPhase.Of("UNUU"), "the oscillator is on", "{0}"),
            "The oscillator is on", "A test tone goes to every bus it is routed to; it can be loud.", "Switch the oscillator off."),
        ("desk/solo-in-place", new("solo-in-place-armed", FindingKind.Risk, SeverityByPhase.Of("-NUU"), "solo-in-place is armed", "{0}"),
            "Solo-in-place is armed", "At the next touch of a solo key everything else vanishes from the room.", "Switch solo-in-place off while no solo key is lit."),
        ("desk/external-mute", new("external-mute-on", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "an outside contact holds the loudspeakers silent", "{0}"),
            "An external mute is active", "Loudspeakers are held silent from outside the desk, perhaps by the fire alarm.", "Find out who holds it before anybody turns anything up; never bridge it."),
        ("desk/clock-locked", new("clock-unlocked", FindingKind.Risk, SeverityByPhase.Of("WUUU"), "the desk's clock is not locked", "{0}"),
            "The desk's clock is not locked", "Clicks and dropouts on every digital connection.", "Call the engineer: clock source and cables. Never change the clock during the show."),
    ];

    public IReadOnlyList<RuleInfo> Rules { get; } = [.. Rows.Select(row => row.Rule)];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var row in Rows)
        {
            if (facts.Plan.For(facts.Profile.Find(row.Path)) is not { } expectation)
                continue;
            yield return new ExpectationCheck(row.Rule, expectation, null, (known, planned, live) => new FindingWords(
                string.Format(null, row.What, known.Profile.Format(live), known.Profile.Format(planned.Planned)), row.Why, row.Do, "desk", "The desk"));
        }
    }
}
