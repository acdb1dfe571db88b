using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Members missing from, or unplanned in, DCAs and mute groups. Common practice, no source.</summary>
internal sealed class MembershipRules : IAuditRule
{
    private static readonly RuleInfo MuteMissing = new("mute-group-member-missing", FindingKind.Drift, SeverityByPhase.Of("NWUU"),
        "a strip fell out of its mute group", "{0} members missing");

    private static readonly RuleInfo MuteUnplanned = new("mute-group-member-unplanned", FindingKind.Drift, SeverityByPhase.Of("NWUU"),
        "a strip is in a mute group it should not be in", "{0} members too many");

    private static readonly RuleInfo DcaMissing = new("dca-member-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a strip fell out of its DCA", "{0} members missing");

    private static readonly RuleInfo DcaUnplanned = new("dca-member-unplanned", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a strip is in a DCA it should not be in", "{0} members too many");

    public IReadOnlyList<RuleInfo> Rules { get; } = [MuteMissing, MuteUnplanned, DcaMissing, DcaUnplanned];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            switch (facts.Profile.Settings[expectation.Setting].Kind.Suffix)
            {
                case "mute-group/#":
                    yield return new ExpectationCheck(expectation.Planned.IsOn ? MuteMissing : MuteUnplanned, expectation, null, DescribeMute);
                    break;
                case "dca/#":
                    yield return new ExpectationCheck(expectation.Planned.IsOn ? DcaMissing : DcaUnplanned, expectation, null, DescribeDca);
                    break;
            }
        }
    }

    private static FindingWords DescribeMute(AuditFacts facts, Expectation expectation, Settings.SettingValue live)
    {
        var (who, place, group, groupPath) = Parts(facts, expectation, "mute-group");
        return expectation.Planned.IsOn
            ? new FindingWords($"{who} is not in {group}", $"It stays open when {group} should silence all.", $"Add {place} to {group}.", groupPath, group)
            {
                Short = new($"{who} is not in {group}", "it stays open while others mute", "Add it", "Add them"),
            }
            : new FindingWords($"{who} is in {group}, where it was not planned", "It falls silent when that group is muted for the others.",
                $"Fader down first, then take {place} out of {group}.", groupPath, group)
            {
                Short = new($"{who} should not be in {group}", "it falls silent with the others", "Fader down first, then take it out", "Faders down first, then take them out"),
            };
    }

    private static FindingWords DescribeDca(AuditFacts facts, Expectation expectation, Settings.SettingValue live)
    {
        var (who, place, group, groupPath) = Parts(facts, expectation, "dca");
        return expectation.Planned.IsOn
            ? new FindingWords($"{who} is not on {group}", $"{Sentences.Capital(group)} does not move it, so it is not found from the first layer of faders.",
                $"Fader down first, then add {place} to {group}.", groupPath, group)
            {
                Short = new($"{who} is not on {group}", "that DCA does not move it", "Fader down first, then add it", "Faders down first, then add them"),
            }
            : new FindingWords($"{who} is on {group}, where it was not planned", $"It jumps whenever somebody moves {group}.",
                $"Fader down first, then take {place} off {group}.", groupPath, group)
            {
                Short = new($"{who} should not be on {group}", "it moves with that DCA", "Fader down first, then take it off", "Faders down first, then take them off"),
            };
    }

    private static (string Who, string Place, string Group, string GroupPath) Parts(AuditFacts facts, Expectation expectation, string kind)
    {
        var setting = facts.Profile.Settings[expectation.Setting];
        var strip = facts.Profile.Strips[setting.Strip];
        var path = $"{kind}/{setting.Path[(setting.Path.LastIndexOf('/') + 1)..]}";
        var group = facts.Profile.FindStrip(path) is { } known ? facts.Words(known) : path.Replace('/', ' ');
        return (facts.Words(strip), AuditFacts.Place(strip), group, path);
    }
}
