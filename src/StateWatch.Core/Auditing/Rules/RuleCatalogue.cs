namespace StateWatch.Core.Auditing.Rules;

/// <summary>Every rule there is. To add one, write its family and add it here (see DEVELOPERS.md).</summary>
public static class RuleCatalogue
{
    /// <summary>The families in the order they are judged and, among equally urgent ones, told; the plain drift comes last and tells what nobody else explained.</summary>
    public static IReadOnlyList<IAuditRule> Families { get; } =
    [
        new HealthRules(),
        new LimiterRule(),
        new PrivacyRules(),
        new SubsRule(),
        new SendTapRules(),
        new InsertRules(),
        new MembershipRules(),
        new PatchRules(),
        new PreampRules(),
        new StripRules(),
        new DriftRule(),
    ];

    /// <summary>Every rule by id.</summary>
    public static IEnumerable<RuleInfo> All => Families.SelectMany(family => family.Rules);
}
