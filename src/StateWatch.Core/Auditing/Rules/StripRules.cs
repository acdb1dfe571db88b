using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Names, stereo links, low-cut filters of open microphones. Common practice, no source.</summary>
internal sealed class StripRules : IAuditRule
{
    private static readonly RuleInfo Name = new("name-changed", FindingKind.Drift, SeverityByPhase.Of("NNWN"), "a name is not the planned one", "{0} names changed");

    private static readonly RuleInfo Link = new("stereo-link-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "a stereo pair is not linked", "not linked as a stereo pair");

    private static readonly RuleInfo LowCut = new("low-cut-off", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "an open microphone has no low-cut filter", "{0} open microphones without low-cut filter");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Name, Link, LowCut];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            switch (setting.Kind.Suffix)
            {
                case "name":
                    yield return new ExpectationCheck(Name, expectation, null, DescribeName);
                    break;
                case "linked" when expectation.Planned.IsOn:
                    yield return new ExpectationCheck(Link, expectation, null, DescribeLink);
                    break;
                case "low-cut" when expectation.Planned.IsOn && facts.StripOf(setting.Strip) is { OpenMic: true }:
                    yield return new ExpectationCheck(LowCut, expectation, null, DescribeLowCut);
                    break;
            }
        }
    }

    private static FindingWords DescribeName(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return new FindingWords($"{AuditFacts.Place(strip)} is called '{facts.Profile.Format(live)}', planned '{facts.Profile.Format(expectation.Planned)}'",
            "Somebody grabs the wrong fader.", $"Check what is really on {AuditFacts.Place(strip)}, then write '{facts.Profile.Format(expectation.Planned)}' on it.", strip.Kind, $"Names of {strip.Kind} strips")
        {
            Short = new($"{AuditFacts.Place(strip)} is called '{facts.Profile.Format(live)}', not '{facts.Profile.Format(expectation.Planned)}'",
                "somebody grabs the wrong fader", "Find out what is on it, then rename it", "Find out what is on them, then rename them"),
        };
    }

    private static FindingWords DescribeLink(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var odd = strip.Number - 1 + strip.Number % 2;
        var left = facts.Profile.FindStrip($"{strip.Kind}/{odd}");
        var right = facts.Profile.FindStrip($"{strip.Kind}/{odd + 1}");
        var pair = left is null || right is null ? $"{strip.Kind} {odd} and {odd + 1}" : $"{facts.Words(left)} and {facts.Words(right)}";
        return new FindingWords($"{facts.Words(strip)} is not linked to its stereo partner", "Half of the source stays behind when somebody moves the other half.",
            $"Both faders down first, then link {strip.Kind} {odd} and {odd + 1}.", $"{strip.Kind}/{odd}-{odd + 1}", pair)
        {
            Short = new($"{pair} are not linked", "a fader moves only half", "Both faders down first, then link them"),
        };
    }

    private static FindingWords DescribeLowCut(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return new FindingWords($"{facts.Words(strip)}: the low-cut filter is off", "Boom, wind and footsteps are heard, and low feedback comes sooner.",
            $"Switch the low-cut filter on: {AuditFacts.Place(strip)}.", facts.StripOf(strip.Id)?.Role ?? strip.Path, $"Channels of role {facts.StripOf(strip.Id)?.Role}")
        {
            Short = new($"{facts.Words(strip)} has its low-cut filter off", "boom and rumble", "Switch the low-cut filter on", "Switch their low-cut filters on"),
        };
    }
}
