using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A limiter that protects loudspeakers or ears is out. Common practice, no source.</summary>
internal sealed class LimiterRule : IAuditRule
{
    private static readonly RuleInfo Info = new("limiter-out", FindingKind.Drift, SeverityByPhase.Of("WUUU"), "an output or in-ear limiter is out", "{0} limiters out");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) =>
        from expectation in facts.Plan.Expectations
        where expectation.Planned.IsOn && facts.Profile.Settings[expectation.Setting].Kind.Suffix == "limiter/in"
        select new ExpectationCheck(Info, expectation, null, Describe);

    private static FindingWords Describe(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var inEars = facts.FeedAt(strip.Path) is { Purpose: Purpose.InEars };
        return new FindingWords($"{facts.Words(strip)}: the limiter is out",
            inEars ? "Nothing in the desk protects the wearer's hearing from a sudden peak." : "Nothing in the desk protects loudspeakers or ears from a sudden peak.",
            $"{(inEars ? "In-ears out of the ears first, then switch" : "Switch")} the limiter in: {AuditFacts.Place(strip)}.", facts.NameOf(strip) ?? strip.Path, facts.Words(strip))
        {
            Short = inEars
                ? new($"{facts.Words(strip)}, limiter out", "a peak can hurt", "In-ears out, then switch it in", "In-ears out, then switch them in")
                : new($"{facts.Words(strip)}, limiter out", "a peak can hurt", "Switch it in", "Switch them in"),
        };
    }
}
