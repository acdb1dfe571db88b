using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Every expectation that is not met and that no other rule explains.</summary>
internal sealed class DriftRule : IAuditRule
{
    /// <summary>The rule. Its severity comes from the setting's class.</summary>
    public static readonly RuleInfo Info = new("drift", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "a setting is not as planned", "{0} settings are not as planned");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) => facts.Plan.Expectations.Select(expectation => new DriftCheck(expectation));
}

/// <summary>One expectation.</summary>
internal sealed class DriftCheck(Expectation expectation) : RuleCheck(DriftRule.Info, expectation.Setting, [expectation.Setting])
{
    // A drift without a fresh value is told once, as unseen coverage.
    public override bool PassesOverUnseen => true;

    public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]);

    public override EdgeDistance FromEdge(DeskState state, bool isViolated) => EdgeDistance.Of(expectation, state, isViolated);

    public override FindingWords Describe(AuditFacts facts, DeskState state)
    {
        var setting = facts.Profile.Settings[Subject];
        var strip = facts.Profile.Strips[setting.Strip];
        var who = facts.Words(strip);
        var drift = new DriftWords(setting.Kind, expectation.Planned, state[Subject], facts.Profile);
        var part = strip.Kind == "desk" ? SettingWords.Of(facts, setting) : $"{who}: {SettingWords.Of(facts, setting)}";
        var instead = expectation.Planned.Kind == ValueKind.Switch ? "" : $", not {drift.Planned}";
        var (what, briefly) = setting.Kind.Suffix == "on" && strip.Kind != "desk"
            ? Mute(who)
            : ($"{part} is {drift.Live}, planned {AllowedText.Of(expectation, facts.Profile)}", $"{part} is {drift.Live}{instead}");
        return new FindingWords(what, drift.Why, drift.Do, strip.Path, who)
        {
            Short = new ShortWords(briefly, drift.Heard, drift.Fix, DriftWords.FixAll),
        };
    }

    // The setting is 'on', the word on the desk is 'mute': to say "mute is off" of a muted channel would be a trap.
    private (string What, string Short) Mute(string who) => expectation.Planned.IsOn
        ? ($"{who} is muted, planned open", $"{who} is muted")
        : ($"{who} is open, planned muted", $"{who} is open, should be muted");
}
