namespace StateWatch.Core.Auditing.Rules;

/// <summary>The desk as a whole: show file, oscillator, solo-in-place, external mute, clock, recorder inputs. Common practice, no source.</summary>
internal sealed class HealthRules : IAuditRule
{
    private static readonly (string Path, RuleInfo Rule, string What, string Why, string Do, ShortWords Short)[] Rows =
    [
        ("desk/show-file", new("wrong-show-file", FindingKind.Risk, SeverityByPhase.Of("WUUU"), "the desk has another show loaded", "{0}"),
            "The desk has the show file '{0}' loaded, planned is '{1}'", "Nothing below can be trusted until the right show is loaded.", "Call the engineer before anything is recalled; everything down first.",
            new("The desk has the show '{0}' loaded, not '{1}'", "nothing below can be trusted", "Touch nothing; call the engineer")),
        ("desk/input-bank", new("playback-as-inputs", FindingKind.Risk, SeverityByPhase.Of("NNUU"), "the desk plays a recording instead of its microphones", "{0}"),
            "The desk's inputs come from '{0}', planned is '{1}'", "Live microphones are dead although meters move.", "Main faders down first, then switch the inputs back to the stage.",
            new("The desk's inputs come from '{0}', not '{1}'", "microphones are dead though meters move", "Main faders down first, then switch the inputs to '{1}'")),
        ("desk/oscillator", new("oscillator-on", FindingKind.Risk, SeverityByPhase.Of("UNUU"), "the oscillator is on", "{0}"),
            "The oscillator is on", "A test tone goes to every bus it is routed to; it can be loud.", "Switch the oscillator off.",
            new("The oscillator is on", "a test tone, perhaps a loud one", "Switch the oscillator off")),
        ("desk/solo-in-place", new("solo-in-place-armed", FindingKind.Risk, SeverityByPhase.Of("-NUU"), "solo-in-place is armed", "{0}"),
            "Solo-in-place is armed", "At the next touch of a solo key everything else vanishes from the room.", "Switch solo-in-place off while no solo key is lit.",
            new("Solo-in-place is armed", "one touch of a solo key silences all the others", "Switch it off while no solo key is lit")),
        ("desk/external-mute", new("external-mute-on", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "an outside contact holds the loudspeakers silent", "{0}"),
            "An external mute is active", "Loudspeakers are held silent from outside the desk, perhaps by the fire alarm.", "Main faders down, then find out who holds it; never bridge it.",
            new("The loudspeakers are muted from outside the desk", "the room stays silent", "Main faders down, then ask who holds it; never bridge it")),
        ("desk/clock-locked", new("clock-unlocked", FindingKind.Risk, SeverityByPhase.Of("WUUU"), "the desk's clock is not locked", "{0}"),
            "The desk's clock is not locked", "Clicks and dropouts on every digital connection.", "Call the engineer: clock source and cables. Never change the clock during the show.",
            new("The desk's clock is not locked", "clicks and dropouts", "Do not touch the clock; call the engineer")),
    ];

    public IReadOnlyList<RuleInfo> Rules { get; } = [.. Rows.Select(row => row.Rule)];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var row in Rows)
        {
            if (facts.Plan.For(facts.Profile.Find(row.Path)) is not { } expectation)
                continue;
            yield return new ExpectationCheck(row.Rule, expectation, null, (known, planned, live) =>
            {
                string[] values = [known.Profile.Format(live), known.Profile.Format(planned.Planned)];
                return new FindingWords(string.Format(null, row.What, values), row.Why, row.Do, "desk", "The desk")
                {
                    Short = row.Short with { What = string.Format(null, row.Short.What, values), Fix = string.Format(null, row.Short.Fix, values) },
                };
            });
        }
    }
}
