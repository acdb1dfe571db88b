using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Sources and outputs that are missing or wrong. Common practice, no source.</summary>
internal sealed class PatchRules : IAuditRule
{
    private static readonly RuleInfo SourceMissing = new("source-missing", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "a channel has no source", "{0} channels without a source");

    private static readonly RuleInfo SourceWrong = new("source-wrong", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "a channel is patched to another socket", "{0} channels on the wrong socket");

    private static readonly RuleInfo OutputEmpty = new("output-source-missing", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "nothing feeds an output", "{0} outputs without a feed");

    private static readonly RuleInfo OutputWrong = new("output-source-wrong", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "another bus feeds an output", "{0} outputs fed by another bus");

    public IReadOnlyList<RuleInfo> Rules { get; } = [SourceMissing, SourceWrong, OutputEmpty, OutputWrong];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var none = facts.Profile.Texts.Intern("none");
        foreach (var expectation in facts.Plan.Expectations)
        {
            var kind = facts.Profile.Settings[expectation.Setting].Kind;
            if (kind.Suffix != "source" || expectation.Planned.TextId == none)
                continue;
            var isOutput = kind.StripKind == "output";
            yield return new ExpectationCheck(isOutput ? OutputEmpty : SourceMissing, expectation, live => live.TextId == none, isOutput ? DescribeOutput : DescribeSource);
            yield return new ExpectationCheck(isOutput ? OutputWrong : SourceWrong, expectation, live => live.TextId != none, isOutput ? DescribeOutput : DescribeSource);
        }
    }

    private static FindingWords DescribeSource(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var planned = facts.Profile.Format(expectation.Planned);
        var name = facts.NameOf(strip) ?? strip.Path;
        var missing = live.TextId == facts.Profile.Texts.Intern("none");
        return new FindingWords(
            missing ? $"{facts.Words(strip)} has no source, planned {planned}" : $"{facts.Words(strip)} takes its signal from {facts.Profile.Format(live)}, planned {planned}",
            missing ? $"{name} is silent." : $"The label says {name}, but another microphone or none is heard.",
            $"Fader down first, then patch {AuditFacts.Place(strip)} to {planned}; leave this to whoever knows the patch.", strip.Path, facts.Words(strip))
        {
            Short = missing ? new($"{facts.Words(strip)} has no source", "it is silent", "Fader down; call the engineer", "Faders down; call the engineer")
                : new($"{facts.Words(strip)} is patched to {facts.Profile.Format(live)}", "wrong sound or none", "Fader down; call the engineer"),
        };
    }

    private static FindingWords DescribeOutput(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var planned = facts.Profile.Format(expectation.Planned);
        var feeder = live.TextId == facts.Profile.Texts.Intern("none") ? "nothing" : facts.Profile.Format(live);
        return new FindingWords($"{facts.Words(strip)} is fed by {feeder}, planned {planned}",
            $"What was meant for '{facts.NameOf(strip) ?? strip.Path}' does not leave the desk here.",
            $"Bus fader down first, then patch {AuditFacts.Place(strip)} to {planned}; leave this to whoever knows the patch.", facts.NameOf(strip) ?? strip.Path, facts.Words(strip))
        {
            Short = new($"{facts.Words(strip)} is fed by {feeder}", feeder == "nothing" ? "nothing leaves there" : "the wrong sound leaves there", "Bus fader down; call the engineer"),
        };
    }
}
