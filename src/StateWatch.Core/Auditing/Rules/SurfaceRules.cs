using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Modes, keys, colours and recall-safes that make hands go wrong. Common practice, no source.</summary>
internal sealed class SurfaceRules : IAuditRule
{
    private static readonly RuleInfo Flip = new("sends-on-fader-left-on", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "the faders show a send, not the room", "{0}");

    private static readonly RuleInfo Recall = new("recall-would-undo", FindingKind.Drift, SeverityByPhase.Of("-WWW"),
        "the next recall would change a strip that must stay", "{0} strips the next recall would change");

    private static readonly RuleInfo Colour = new("colour-changed", FindingKind.Drift, SeverityByPhase.Of("NNWN"),
        "a strip has another colour", "{0} strips with another colour");

    private static readonly RuleInfo Key = new("key-changed", FindingKind.Drift, SeverityByPhase.Of("NNWN"),
        "a key of the desk does something else", "{0} keys do something else");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Flip, Recall, Colour, Key];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            switch (facts.Profile.Settings[expectation.Setting].Kind.Suffix)
            {
                case "sends-on-fader" when !expectation.Planned.IsOn:
                    yield return new FlipCheck(expectation);
                    break;
                case "recall-safe" when expectation.Planned.IsOn:
                    yield return new ExpectationCheck(Recall, expectation, null, DescribeRecall);
                    break;
                case "colour":
                    yield return new ExpectationCheck(Colour, expectation, null, DescribeColour);
                    break;
                case "key/#":
                    yield return new ExpectationCheck(Key, expectation, null, DescribeKey);
                    break;
            }
        }
    }

    // In a show somebody looks at a mix for some seconds.
    private sealed class FlipCheck(Expectation expectation) : ExpectationCheck(Flip, expectation, null, DescribeFlip)
    {
        public override bool MayBeMomentary(DeskState state) => true;
    }

    private static Strip StripOf(AuditFacts facts, Expectation expectation) => facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];

    private static FindingWords DescribeFlip(AuditFacts facts, Expectation expectation, SettingValue live) =>
        new("The faders show the sends of a mix, not the room", "Whoever moves a fader moves somebody's monitor mix.", "Do not move a fader; switch sends-on-fader off.", "desk", "The desk")
        {
            Short = new("The faders show the sends of a mix", "they move somebody's monitor mix", "Do not move a fader; switch that mode off"),
        };

    private static FindingWords DescribeRecall(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        return new FindingWords($"{facts.Words(strip)} is not held back from recalls", "The next recall may open this microphone, or close it.",
            $"Do not recall anything; call the engineer to set {AuditFacts.Place(strip)} aside from recalls.", "recalls", "Recalls")
        {
            Short = new($"{facts.Words(strip)} is not held back from recalls", "the next recall may open or close it", "Do not recall anything; call the engineer"),
        };
    }

    private static FindingWords DescribeColour(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        var (now, planned) = (facts.Profile.Format(live), facts.Profile.Format(expectation.Planned));
        return new FindingWords($"{facts.Words(strip)} has the colour {now}, planned {planned}", "Whoever looks for a colour grabs the wrong fader.",
            $"Check what is really on {AuditFacts.Place(strip)}, then give it the colour {planned}.", planned, $"Colour {planned}")
        {
            Short = new($"{facts.Words(strip)} is {now}, not {planned}", "somebody grabs the wrong fader", "Find out what is on it, then give it its colour", "Find out what is on them, then give them their colour"),
        };
    }

    private static FindingWords DescribeKey(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var number = facts.Profile.Settings[expectation.Setting].Path.Split('/')[^1];
        var (now, planned) = (facts.Profile.Format(live), facts.Profile.Format(expectation.Planned));
        return new FindingWords($"Key {number} of the desk does '{now}', planned '{planned}'", "Whoever presses it gets something else than the label says.",
            $"Do not press key {number}; call the engineer to give it back '{planned}'.", "keys", "Keys of the desk")
        {
            Short = new($"Key {number} does '{now}', not '{planned}'", "whoever presses it gets a surprise", "Do not press it; call the engineer", "Do not press them; call the engineer"),
        };
    }
}
