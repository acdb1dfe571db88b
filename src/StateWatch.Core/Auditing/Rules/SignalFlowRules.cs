namespace StateWatch.Core.Auditing.Rules;

/// <summary>What needs what the signal flow does not tell yet: coupling and planned numbers. Named in every report, so that nobody thinks it was looked at.</summary>
internal sealed class SignalFlowRules : IAuditRule
{
    /// <summary>The rules that make no checks on any plan.</summary>
    public static IReadOnlyList<RuleInfo> NotJudged { get; } =
    [
        new("feedback-margin", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "a microphone reaches a loudspeaker that it can hear", "{0} pairs of microphone and loudspeaker"),
        new("too-many-open", FindingKind.Risk, SeverityByPhase.Of("-NWW"), "more open microphones at a feed than planned", "{0} open microphones too many"),
    ];

    public IReadOnlyList<RuleInfo> Rules => NotJudged;

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) => [];
}
