using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing;

/// <summary>
/// One (rule, subject): which settings it needs and whether they violate the rule. Made when the plan is compiled; pure, so that the
/// same state always gives the same verdict.
/// </summary>
/// <param name="rule">The rule.</param>
/// <param name="subject">Setting id of the subject.</param>
/// <param name="inputs">Setting ids it depends on; all must be fresh to tell.</param>
public abstract class RuleCheck(RuleInfo rule, int subject, int[] inputs)
{
    /// <summary>The rule.</summary>
    public RuleInfo Rule { get; } = rule;

    /// <summary>Setting id of the subject.</summary>
    public int Subject { get; } = subject;

    /// <summary>Setting ids the verdict depends on.</summary>
    public IReadOnlyList<int> Inputs { get; } = inputs;

    /// <summary>Whether the rule is violated. Called only when every input is fresh; allocates nothing.</summary>
    public abstract bool IsViolated(DeskState state);

    /// <summary>The words for a violation.</summary>
    public abstract FindingWords Describe(AuditFacts facts, DeskState state);
}

/// <summary>What people are told about a violation.</summary>
/// <param name="What">What is wrong, one sentence with the strip's name.</param>
/// <param name="Why">What is heard or not heard because of it.</param>
/// <param name="Do">The one thing to do.</param>
/// <param name="Cause">Violations with the same cause are told together: a feed, a group, a strip.</param>
/// <param name="CauseName">The cause as people call it.</param>
public sealed record FindingWords(string What, string Why, string Do, string Cause, string CauseName);
