using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Names, stereo links, low-cut filters of open microphones, output limiters. Common practice, no source.</summary>
internal sealed class StripRules : IAuditRule
{
    private static readonly RuleInfo Name = new("name-changed", FindingKind.Drift, SeverityByPhase.Of("NNWN"), "a name is not the planned one", "{0} names changed");

    private static readonly RuleInfo Link = new("stereo-link-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "a stereo pair is not linked", "{0} channels of stereo pairs not linked");

    private static readonly RuleInfo LowCut = new("low-cut-off", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "an open microphone has no low-cut filter", "{0} open microphones without low-cut filter");

    private static readonly RuleInfo Limiter = new("limiter-out", FindingKind.Drift, SeverityByPhase.Of("WUUU"), "an output or in-ear limiter is out", "{0} limiters out");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Name, Link, LowCut, Limiter];

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
                case "limiter/in" when expectation.Planned.IsOn:
                    yield return new ExpectationCheck(Limiter, expectation, null, DescribeLimiter);
                    break;
            }
        }
    }

    private static FindingWords DescribeName(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return new FindingWords($"{Sentences.Capital(AuditFacts.Place(strip))} is called '{facts.Profile.Format(live)}', planned '{facts.Profile.Format(expectation.Planned)}'",
            "Somebody grabs the wrong fader.", $"Check what is really on {AuditFacts.Place(strip)}, then write '{facts.Profile.Format(expectation.Planned)}' on it.", strip.Kind, $"Names of kind {strip.Kind}");
    }

    private static FindingWords DescribeLink(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var odd = strip.Number - 1 + strip.Number % 2;
        return new FindingWords($"{facts.Words(strip)} is not linked to its stereo partner", "Half of the source stays behind when somebody moves the other half.",
            $"Both faders down first, then link {strip.Kind} {odd} and {odd + 1}.", $"{strip.Kind}/{odd}-{odd + 1}", $"{Sentences.Capital(strip.Kind)} {odd} and {odd + 1}");
    }

    private static FindingWords DescribeLowCut(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return new FindingWords($"{facts.Words(strip)}: the low-cut filter is off", "Boom, wind and footsteps are heard, and low feedback comes sooner.",
            $"Switch the low-cut filter on: {AuditFacts.Place(strip)}.", facts.StripOf(strip.Id)?.Role ?? strip.Path, $"Role {facts.StripOf(strip.Id)?.Role}");
    }

    private static FindingWords DescribeLimiter(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return new FindingWords($"{Sentences.Capital(facts.Words(strip))}: the limiter is out", "Nothing in the desk protects loudspeakers or ears from a sudden peak. In-ear users can be hurt.",
            $"Switch the limiter in: {AuditFacts.Place(strip)}. In-ears off until it is.", facts.NameOf(strip) ?? strip.Path, Sentences.Capital(facts.Words(strip)));
    }
}
