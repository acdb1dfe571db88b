using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A rule about one expectation: it is violated when the expectation is not met and the live value is of the kind the rule names.</summary>
/// <param name="rule">The rule.</param>
/// <param name="expectation">The expectation.</param>
/// <param name="applies">Which unmet live values the rule is about; null for all.</param>
/// <param name="describe">The words.</param>
internal class ExpectationCheck(RuleInfo rule, Expectation expectation, Func<SettingValue, bool>? applies, Func<AuditFacts, Expectation, SettingValue, FindingWords> describe)
    : RuleCheck(rule, expectation.Setting, [expectation.Setting])
{
    public override bool IsViolated(DeskState state)
    {
        var live = state[Subject];
        return !expectation.Allows(live) && (applies is null || applies(live));
    }

    public override EdgeDistance FromEdge(DeskState state, bool isViolated) => EdgeDistance.Of(expectation, state, isViolated);

    public override FindingWords Describe(AuditFacts facts, DeskState state) => describe(facts, expectation, state[Subject]);
}
