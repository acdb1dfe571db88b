namespace StateWatch.Core.Auditing.Rules;

/// <summary>Every rule there is. To add one, write its family and add it here (see DEVELOPERS.md).</summary>
public static class RuleCatalogue
{
    /// <summary>The families in the order they are judged and, among equally urgent ones, told; the plain drift comes last and tells what nobody else explained.</summary>
    public static IReadOnlyList<IAuditRule> Families { get; } =
    [
        new HealthRules(),
        new StageBoxRules(),
        new LimiterRule(),
        new TalkLatchedRule(),
        new PrivacyRules(),
        new CueRules(),
        new FeedShutRule(),
        new FeedbackMarginRule(),
        new TooManyOpenRule(),
        new MuteGroupActiveRule(),
        new EffectRules(),
        new ElectricalLoopRule(),
        new SubsRule(),
        new DirectAndGroupRule(),
        new StreamRules(),
        new SendTapRules(),
        new OneLegRule(),
        new HalfUnitRule(),
        new FeedStarvedRule(),
        new DoubleInsertRule(),
        new InsertRules(),
        new ReachRule(),
        new AlternateRule(),
        new CrossedRules(),
        new OtherFeedRule(),
        new SharedSourceRule(),
        new PatchRules(),
        new PreampRules(),
        new GainRules(),
        new StripRules(),
        new ProcessingRules(),
        new PartnerRules(),
        new SurfaceRules(),
        new SignalRule(),
        new FeedDependsRule(),
        new MustCarryRule(),
        new ParallelOnlyRule(),
        new MembershipRules(),
        new ParkedRule(),
        new CarriedRule(),
        new DoubleRoutedRule(),
        new FeedSourceOffRule(),
        new MicTooHotRule(),
        new GuardRule(),
        new RatioRule(),
        new DriftRule(),
    ];

    /// <summary>Every rule by id.</summary>
    public static IEnumerable<RuleInfo> All => Families.SelectMany(family => family.Rules);
}
