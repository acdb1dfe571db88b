using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Private words and the click must not reach a public feed. Direct edges only: longer ways are told by the rule about what is carried against the plan.
/// Common practice, no source.
/// </summary>
internal sealed class PrivacyRules : IAuditRule
{
    private static readonly RuleInfo Talk = new("talkback-public", FindingKind.Risk, SeverityByPhase.Of("WWUU"),
        "a talkback is routed straight to a public feed", "{0} private routes to the public");

    private static readonly RuleInfo Click = new("click-public", FindingKind.Risk, SeverityByPhase.Of("WWUU"),
        "a click or cue is routed straight to a public feed", "{0} routes of click or cues to the public");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Talk, Click];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Profile.Settings)
        {
            if (EdgePaths.BusOf(setting) is not { } bus || facts.FeedOf(bus) is not { } owner || !owner.Feed.Purpose.IsPublic())
                continue;
            var privacy = setting.Kind.StripKind == "desk" ? Privacy.Talk : facts.StripOf(setting.Strip)?.Privacy ?? Privacy.None;
            if (privacy == Privacy.None || facts.Plan.For(setting.Id) is { Planned.IsOn: true })
                continue;
            var level = EdgePaths.LevelOf(facts.Profile, setting);
            yield return new Check(privacy == Privacy.Talk ? Talk : Click, setting, level, bus);
        }
    }

    private sealed class Check(RuleInfo rule, Setting edge, int level, string bus) : RuleCheck(rule, edge.Id, level >= 0 ? [edge.Id, level] : [edge.Id])
    {
        public override bool IsViolated(DeskState state) =>
            state[edge.Id].IsOn && (level < 0 || !double.IsNegativeInfinity(state[level].Number));

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[edge.Strip];
            var who = strip.Kind == "desk" ? $"Talk circuit {edge.Path.Split('/')[2]} of the desk" : facts.Words(strip);
            var shortWho = strip.Kind == "desk" ? $"Talk {edge.Path.Split('/')[2]}" : who;
            var place = bus.Replace('/', ' ');
            var feed = facts.FeedOf(bus)!.Value.Feed;
            return Rule == Talk
                ? new FindingWords($"{who} is routed to {facts.BusWords(bus)}", $"The next private word goes out to everybody who hears '{feed.Key}'.",
                    $"Switch that route off: {Place(strip)} to {place}.", feed.Key, $"Private talk in {feed.Key}")
                {
                    Short = new($"{shortWho} goes to {facts.BusWords(bus)}", "the next private word goes out", $"Switch it off: {Place(strip)} to {place}", "Switch these routes off"),
                }
                : new FindingWords($"{who} is routed to {facts.BusWords(bus)}", $"Everybody who hears '{feed.Key}' hears the click.",
                    $"Switch that route off: {Place(strip)} to {place}.", feed.Key, $"Click in {feed.Key}")
                {
                    Short = new($"{shortWho} goes to {facts.BusWords(bus)}", "everybody hears it", $"Switch it off: {Place(strip)} to {place}", "Switch these routes off"),
                };
        }

        private string Place(Strip strip) => strip.Kind == "desk" ? $"talk {edge.Path.Split('/')[2]}" : AuditFacts.Place(strip);
    }
}
