namespace StateWatch.Core.Auditing.Rules;

/// <summary>What needs ways through groups, mixes and matrices to be followed: named in every report, so that nobody thinks it was looked at.</summary>
internal sealed class SignalFlowRules : IAuditRule
{
    /// <summary>The rules that make no checks on any plan.</summary>
    public static IReadOnlyList<RuleInfo> NotJudged { get; } =
    [
        new("must-carry-silent", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "a listener gets nothing of a source he must hear", "{0} sources do not arrive"),
        new("carried-against-plan", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "a listener gets a source he must not hear, by any way", "{0} sources arrive that must not"),
        new("double-routed", FindingKind.Risk, SeverityByPhase.Of("NWWN"), "a source reaches a listener by two ways", "{0} sources arrive twice"),
        new("electrical-loop", FindingKind.Risk, SeverityByPhase.Of("UUUU"), "buses feed each other in a circle", "{0} circles of buses"),
        new("feedback-margin", FindingKind.Risk, SeverityByPhase.Of("NWUU"), "a microphone reaches a loudspeaker that it can hear", "{0} pairs of microphone and loudspeaker"),
        new("too-many-open", FindingKind.Risk, SeverityByPhase.Of("-NWW"), "more open microphones at a feed than planned", "{0} open microphones too many"),
    ];

    public IReadOnlyList<RuleInfo> Rules => NotJudged;

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) => [];
}
