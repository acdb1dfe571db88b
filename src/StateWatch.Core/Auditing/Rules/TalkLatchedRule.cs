using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A talk key that is on while its circuit goes straight to a public feed. Common practice, no source.</summary>
internal sealed class TalkLatchedRule : IAuditRule
{
    private static readonly RuleInfo Info = new("talk-latched", FindingKind.Risk, SeverityByPhase.Of("WWUU"),
        "a talk key is on and its circuit goes to a public feed", "{0} talk keys are on");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var key in facts.Profile.Settings)
        {
            if (key.Kind.Suffix != "talk/#/on")
                continue;
            var lead = key.Path[..^"on".Length] + "to/";
            var routes = facts.Profile.SettingsOf(key.Strip).ToArray().Select(id => facts.Profile.Settings[id])
                .Where(route => route.Path.StartsWith(lead, StringComparison.Ordinal) && EdgePaths.BusOf(route) is { } bus
                    && facts.FeedOf(bus) is { } owner && owner.Feed.Purpose.IsPublic())
                .ToArray();
            if (routes.Length > 0)
                yield return new Check(key, routes, [.. routes.Select(route => facts.Plan.For(route.Id) is { Planned.IsOn: true })]);
        }
    }

    private sealed class Check(Setting key, Setting[] routes, bool[] isPlanned) : RuleCheck(Info, key.Id, [key.Id, .. routes.Select(route => route.Id)])
    {
        public override bool IsViolated(DeskState state) => state[Subject].IsOn && FirstOpen(state) is not null;

        // A circuit that the plan itself leads to listeners is there to be spoken on.
        public override bool MayBeMomentary(DeskState state)
        {
            for (var i = 0; i < routes.Length; i++)
            {
                if (state[routes[i].Id].IsOn && !isPlanned[i])
                    return false;
            }

            return true;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var number = key.Path.Split('/')[2];
            var bus = facts.BusWords(EdgePaths.BusOf(FirstOpen(state)!)!);
            return new FindingWords($"The key of talk circuit {number} is on, and the circuit goes to {bus}", "Every word spoken near the talk microphone goes out at this moment.",
                $"Switch it off: the key of talk {number}.", "desk", "The desk")
            {
                Short = new($"Talk {number} is on and goes to {bus}", "every word near the desk goes out now", $"Switch it off: the key of talk {number}", "Switch it off, each talk key"),
            };
        }

        private Setting? FirstOpen(DeskState state)
        {
            foreach (var route in routes)
            {
                if (state[route.Id].IsOn)
                    return route;
            }

            return null;
        }
    }
}
