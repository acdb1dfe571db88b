using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A strip that is planned to go to a parallel group beside its dry way, and has lost the dry one: only the compressed sound is left. Judged from
/// its own assigns. Common practice, no source.
/// </summary>
internal sealed class ParallelOnlyRule : IAuditRule
{
    private static readonly RuleInfo Info = new("parallel-only", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a strip goes to its parallel group and no longer to the dry way beside it", "{0} strips have lost their dry way");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var byStrip = facts.Plan.Expectations.Where(item => item.Planned.IsOn && facts.Profile.Settings[item.Setting].Kind is { Suffix: "assign/<bus>/#" })
            .Select(item => facts.Profile.Settings[item.Setting]).GroupBy(setting => setting.Strip);
        foreach (var strip in byStrip)
        {
            var ways = strip.ToLookup(setting => facts.FeedOf(EdgePaths.BusOf(setting)!) is { Feed.Purpose: Purpose.Parallel });
            if (ways[true].Any() && ways[false].Any())
                yield return new Check([.. ways[false]], [.. ways[true]]);
        }
    }

    private sealed class Check(Setting[] dry, Setting[] parallel) : RuleCheck(Info, dry[0].Id, [.. dry.Concat(parallel).Select(setting => setting.Id)])
    {
        public override IReadOnlyList<int> Explains { get; } = [.. dry.Select(setting => setting.Id)];

        // Each of them is planned: what was not seen is coverage, and the others are told as drift.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state)
        {
            foreach (var setting in dry)
            {
                if (state[setting.Id].IsOn)
                    return false;
            }

            foreach (var setting in parallel)
            {
                if (state[setting.Id].IsOn)
                    return true;
            }

            return false;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[dry[0].Strip];
            var (bus, place) = (EdgePaths.BusOf(dry[0])!, AuditFacts.Place(strip));
            var squashed = facts.BusWords(EdgePaths.BusOf(parallel.First(setting => state[setting.Id].IsOn))!);
            return new FindingWords($"{facts.Words(strip)} goes to {squashed} but not to {facts.BusWords(bus)}", "Only what the parallel group makes of it is heard: flat, small and without attack.",
                $"Fader down first, then put {place} to {bus.Replace('/', ' ')} back.", $"dry/{bus}", facts.BusWords(bus))
            {
                Short = new($"{facts.Words(strip)} goes to {squashed} but not to {facts.BusWords(bus)}", "only the squashed sound is heard", "Fader down first, then put it back", "Faders down first, then put them back"),
            };
        }
    }
}
