using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Desks.Following;

namespace StateWatch.Core.Tests.Watching;

/// <summary>A rule that throws cannot tell; the watch and every other rule go on.</summary>
public class FailingRuleTests
{
    private const string Tap = "input/12/send/mix/3/tap";

    [Theory]
    [InlineData(Throwing.Judging)]
    [InlineData(Throwing.Measuring)]
    [InlineData(Throwing.Explaining)]
    [InlineData(Throwing.Weighing)]
    public void Rule_that_throws_is_told_once_and_all_others_are_judged(Throwing when)
    {
        var failed = new List<string>();
        using var show = Watch(when, failed);
        show.Set(Tap, "post-fader");
        show.Run(5);
        show.Set(Tap, "pre-fader");
        show.Run(5);
        show.Set(Tap, "post-fader");
        show.Run(5);
        Assert.Equal(["brittle: no luck"], failed);
        Assert.Contains($"sound:{Tap} Raised", show.Told);
        Assert.DoesNotContain(show.Told, static told => told.StartsWith("brittle", StringComparison.Ordinal));
        Assert.Equal(1, show.Watch.Status.Coverage.CannotTell);
    }

    [Fact]
    public void Finding_whose_words_cannot_be_written_is_told_all_the_same()
    {
        var failed = new List<string>();
        using var show = Watch(Throwing.Writing, failed);
        show.Set(Tap, "post-fader");
        show.Run(5);
        Assert.Equal(["brittle: no luck"], failed);
        Assert.Contains(show.Alerts, static alert => alert.Told.Key == $"{WatchedShow.Key}/brittle:{Tap}" && alert.Words!.Text.Contains("breaks", StringComparison.Ordinal));
    }

    [Fact]
    public void Rule_that_judges_again_after_a_change_of_phase_is_told_as_such()
    {
        var failed = new List<string>();
        using var show = Watch(Throwing.Judging, failed);
        show.Set(Tap, "post-fader");
        show.Run(5);
        Assert.True(show.Begin(Phase.Doors).IsDone);
        Assert.Equal(["brittle: no luck"], failed.Distinct());
        show.Set(Tap, "pre-fader");
        show.Run(5);
        Assert.True(show.Begin(Phase.Show).IsDone);
        Assert.Equal("brittle: judges again", failed[^1]);
    }

    [Fact]
    public void Nobody_who_hears_of_it_means_that_it_is_not_hidden()
    {
        using var show = Watch(Throwing.Judging, null);
        show.Set(Tap, "post-fader");
        Assert.Throws<InvalidOperationException>(() => show.Run(5));
    }

    private static WatchedShow Watch(Throwing when, List<string>? failed)
    {
        var show = new WatchedShow(FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(Phase.Show))), WatchedShow.PlanOf(DemoShow.PlanText), Phase.Show, rules: [.. RuleCatalogue.Families, new Brittle(when), new Brittle(Throwing.Never)]);
        show.Watch.RuleFailed = failed is null ? null : (rule, problem) => failed.Add($"{rule}: {problem?.Message ?? "judges again"}");
        show.Run(5);
        return show;
    }

    public enum Throwing
    {
        Never,
        Judging,
        Measuring,
        Explaining,
        Weighing,
        Writing,
    }

    private sealed class Brittle(Throwing when) : IAuditRule
    {
        private readonly RuleInfo _info = new(when == Throwing.Never ? "sound" : "brittle", FindingKind.Risk, SeverityByPhase.Of("WWWW"), "it breaks", "{0} break");

        public IReadOnlyList<RuleInfo> Rules => [_info];

        public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) => [new Check(_info, facts.Profile.Find(Tap), when)];

        private sealed class Check(RuleInfo info, int subject, Throwing when) : RuleCheck(info, subject, [subject])
        {
            public override bool ClaimsSubject => false;

            public override bool IsViolated(DeskState state)
            {
                var isViolated = state.Profile.Format(state[Subject]) == "post-fader";
                return isViolated ? Try(Throwing.Judging, true) : isViolated;
            }

            public override EdgeDistance FromEdge(DeskState state, bool isViolated) => isViolated ? Try(Throwing.Measuring, default(EdgeDistance)) : default;

            public override void AddExplained(DeskState state, List<int> explained) => Try(Throwing.Explaining, true);

            public override Severity Most(DeskState state) => Try(Throwing.Weighing, Severity.Urgent);

            public override FindingWords Describe(AuditFacts facts, DeskState state) => Try(Throwing.Writing, new FindingWords("it breaks", "why", "do", "cause", "cause"));

            private T Try<T>(Throwing now, T value) => now == when ? throw new InvalidOperationException("no luck") : value;
        }
    }
}
