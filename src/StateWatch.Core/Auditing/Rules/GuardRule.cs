using System.Globalization;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

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
        if (plan.Guards.Count == 0 || plan.Phase <= plan.Document.Baseline)
            yield break;
        var routes = new PlannedRoutes(plan);
        foreach (var group in plan.Guards.SelectMany(guard => guard.Strips.Select(strip => (guard, strip))).GroupBy(item => item.strip))
        {
            var subject = plan.Profile.Find($"{group.Key.Strip.Path}/fader") is >= 0 and var fader ? fader : plan.Profile.Find($"{group.Key.Strip.Path}/on");
            var limits = group.Select(item => new Limit(item.guard, new PlannedLevel(plan, routes, item.strip, item.guard.Buses))).Where(limit => limit.Level.Missing.Count == 0).ToArray();
            if (subject >= 0 && limits.Length > 0)
                yield return new Check(subject, limits);
        }
    }

    private sealed record Limit(PlannedGuard Guard, PlannedLevel Level)
    {
        public double Excess(DeskState state)
        {
            var moved = Level.Moved(state);
            return moved > 0 ? moved - (Guard.Line.Up ?? double.PositiveInfinity) : -moved - (Guard.Line.Down ?? double.PositiveInfinity);
        }
    }

    private sealed class Check(int subject, Limit[] limits) : RuleCheck(Info, subject, [.. limits.SelectMany(limit => limit.Level.Settings).Append(subject).Distinct()])
    {
        // Who asks for so many seconds is told by a watch, which can count them.
        public override bool MayBeMomentary(DeskState state)
        {
            foreach (var limit in limits)
            {
                if (limit.Guard.Line.For == TimeSpan.Zero && limit.Excess(state) > Slack)
                    return false;
            }

            return true;
        }

        public override bool IsViolated(DeskState state)
        {
            foreach (var limit in limits)
            {
                if (limit.Excess(state) > Slack)
                    return true;
            }

            return false;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var worst = limits.MaxBy(limit => limit.Excess(state))!;
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var (who, feed, moved) = (facts.Words(strip), worst.Guard.Line.LevelAt.Text, worst.Level.Moved(state));
            var up = moved > 0;
            var allowed = (up ? worst.Guard.Line.Up : worst.Guard.Line.Down)!.Value.ToString("0.#", CultureInfo.InvariantCulture);
            var much = double.IsNegativeInfinity(moved) ? $"{who} does not arrive at {feed} any more"
                : string.Create(CultureInfo.InvariantCulture, $"{who} is {Math.Abs(moved):0.0} dB {(up ? "louder" : "softer")} at {feed} than planned");
            const string From = "A sweep has no record of the soundcheck, so this is measured from the plan.";
            return up
                ? new FindingWords($"{much}; {allowed} dB more is allowed", $"Feedback comes sooner, and it stands out from the rest. {From}",
                    $"Bring it down at its fader ({AuditFacts.Place(strip)}); then look for what moved: gain, trim, DCA, group or send.", worst.Guard.Feed.Key, $"Feed {worst.Guard.Feed.Key}")
                {
                    Short = new(much, "feedback comes sooner", "Bring it down slowly at its fader"),
                }
                : new FindingWords($"{much}; {allowed} dB less is allowed", $"It is lost there, though its fader may stand where it always does. {From}",
                    $"Fader down first ({AuditFacts.Place(strip)}), then look for what moved: gain, trim, DCA, group or send, and bring it back slowly.", worst.Guard.Feed.Key, $"Feed {worst.Guard.Feed.Key}")
                {
                    Short = new(much, "it is hard to hear there", "Fader down first, then slowly back up"),
                };
        }
    }
}
