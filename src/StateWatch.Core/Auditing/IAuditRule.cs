namespace StateWatch.Core.Auditing;

/// <summary>A family of rules that makes its checks from a plan.</summary>
public interface IAuditRule
{
    /// <summary>The rules it can report.</summary>
    IReadOnlyList<RuleInfo> Rules { get; }

    /// <summary>Every check that this plan and desk give reason for.</summary>
    IEnumerable<RuleCheck> ChecksFor(AuditFacts facts);
}
