using System.Globalization;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A source whose level at a feed moved further than the plan's guard allows, by whatever control: gain down and fader up by as much is
/// nothing. Common practice, no source.
/// </summary>
internal sealed class GuardRule : IAuditRule
{
    // A rounding error must not make 4 dB more than 4 dB.
    private const double Slack = 1e-6;

    // A risk: a guard holds although faders are free. In soundcheck levels are still being found, so it is a notice there; never urgent, since a hand may have meant it.
    private static readonly RuleInfo Info = new("level-guard", FindingKind.Risk, SeverityByPhase.Of("-NWW"),
        "a source is louder or softer at a feed than its guard allows", "{0} sources louder or softer than allowed");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var plan = facts.Plan;
        // Until the baseline is made there is nothing to measure from.
        if (plan.Phase <= plan.Document.Baseline)
            yield break;
        foreach (var source in facts.Levels.All.Where(static level => level.IsJudged).GroupBy(static level => level.Strip))
        {
            var path = source.Key.Strip.Path;
            var subject = plan.Profile.Find($"{path}/fader") is >= 0 and var fader ? fader : plan.Profile.Find($"{path}/on");
            if (subject < 0)
                continue;
            // A watch counts for each time by itself; of one strip, who is asked for several is told as many.
            var times = source.GroupBy(static level => level.Guard.Line.For).ToList();
            foreach (var limits in times)
                yield return new Check(subject, [.. limits], limits.Key, times.Count == 1 ? null : $"{plan.Profile.Settings[subject].Path}@{Seconds(limits.Key)}s", facts.Levels.IsWatch);
        }
    }

    private static string Seconds(TimeSpan time) => time.TotalSeconds.ToString("0.###", CultureInfo.InvariantCulture);

    // How far beyond what is allowed, and how far in all, in that direction.
    private static (double Excess, double Moved, double Limit) Measure(GuardedLevel level)
    {
        var moved = level.Moved;
        var limit = (moved > 0 ? level.Guard.Line.Up : level.Guard.Line.Down) ?? double.PositiveInfinity;
        return (Math.Abs(moved) - limit, Math.Abs(moved), limit);
    }

    private sealed class Check(int subject, GuardedLevel[] limits, TimeSpan time, string? path, bool isWatch)
        : RuleCheck(Info, subject, [.. limits.SelectMany(static limit => limit.Settings).Append(subject).Distinct()])
    {
        private const double NearlyAll = 0.8;

        public override IReadOnlyList<int> Facts { get; } = [.. limits.Select(static limit => limit.Fact)];

        public override TimeSpan? OnDelay => time > TimeSpan.Zero ? time : null;

        public override string? SubjectPath(DeskState state) => path;

        // Who asks for so many seconds is told by a watch, which can count them.
        public override bool MayBeMomentary(DeskState state) => !isWatch && time > TimeSpan.Zero;

        public override bool IsViolated(DeskState state)
        {
            foreach (var limit in limits)
            {
                if (Measure(limit).Excess > Slack)
                    return true;
            }

            return false;
        }

        public override EdgeDistance FromEdge(DeskState state, bool isViolated)
        {
            var (isAtEdge, band) = (false, 0);
            foreach (var level in limits)
            {
                var (excess, moved, limit) = Measure(level);
                isAtEdge |= moved > NearlyAll * limit + Slack;
                if (excess > Slack)
                    band = Math.Max(band, InnerBand.BandOf(moved, limit));
            }

            return isViolated ? new EdgeDistance(false, band) : new EdgeDistance(isAtEdge, 0);
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var worst = limits.MaxBy(static limit => Measure(limit).Excess)!;
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var (who, feed, moved) = (facts.Words(strip), worst.Guard.Line.LevelAt.Text, worst.Moved);
            var (up, phase) = (moved > 0, facts.Plan.Document.Baseline.Word());
            var allowed = (up ? worst.Guard.Line.Up : worst.Guard.Line.Down)!.Value.ToString("0.#", CultureInfo.InvariantCulture);
            var than = worst.IsFromBaseline ? $"at the end of {phase}" : "planned";
            var much = double.IsNegativeInfinity(moved) ? $"{who} does not arrive at {feed} any more"
                : string.Create(CultureInfo.InvariantCulture, $"{who} is {Math.Abs(moved):0.0} dB {(up ? "louder" : "softer")} at {feed} than {than}");
            var from = worst.IsFromBaseline ? $"This is measured from the end of {phase}."
                : isWatch ? $"There is no record of the end of {phase}, so this is measured from the plan."
                : $"A sweep has no record of the {phase}, so this is measured from the plan.";
            return up
                ? new FindingWords($"{much}; {allowed} dB more is allowed", $"Feedback comes sooner, and it stands out from the rest. {from}",
                    $"Bring it down at its fader ({AuditFacts.Place(strip)}); then look for what moved: gain, trim, DCA, group or send, or another way there.", worst.Guard.Feed.Key, $"Feed {worst.Guard.Feed.Key}")
                {
                    Short = new(much, "feedback comes sooner", "Bring it down slowly at its fader"),
                }
                : new FindingWords($"{much}; {allowed} dB less is allowed", $"It is lost there, though its fader may stand where it always does. {from}",
                    $"Fader down first ({AuditFacts.Place(strip)}), then look for what moved: gain, trim, DCA, group or send, and bring it back slowly.", worst.Guard.Feed.Key, $"Feed {worst.Guard.Feed.Key}")
                {
                    Short = new(much, "it is hard to hear there", "Fader down first, then slowly back up"),
                };
        }
    }
}
