using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// Holds a plan to its own <c>independent-of</c>: no way the plan makes may lead from the other feed's buses to this one, effects and inputs
/// that take their signal from a bus included, and no DCA or mute group of those buses may hold a strip on a way here. A breach is an error
/// that names both lines.
/// </summary>
internal sealed class IndependenceCheck(ShowPlan plan, PlanNames names, DiagnosticBag diagnostics)
{
    private readonly Lazy<PlannedRoutes> _routes = new(() => new PlannedRoutes(plan));
    private readonly Lazy<Dictionary<string, List<string>>> _loops = new(() => Loops(plan));
    private readonly Dictionary<string, Dictionary<string, (string Before, Expectation? Edge)>> _reached = new(StringComparer.Ordinal);
    private readonly HashSet<Origin> _reported = [];

    /// <summary>Reports every breach that the plan itself makes.</summary>
    /// <returns>Which feeds must not move which, for whoever looks at the live desk.</returns>
    public IReadOnlyList<IndependentPair> Run()
    {
        var pairs = new List<IndependentPair>();
        foreach (var line in plan.Document.Feeds)
        {
            if (line.Constraints.IndependentOf.Count == 0 || plan.Feeds.FirstOrDefault(feed => feed.At == line.Key.At) is not { } feed)
                continue;
            foreach (var name in line.Constraints.IndependentOf)
            {
                if (Other(feed, name) is not { } other)
                    continue;
                var pair = new IndependentPair(feed, other, name.At);
                pairs.Add(pair);
                CheckWays(pair);
                CheckGroups(pair);
            }
        }

        return pairs;
    }

    private Feed? Other(Feed feed, ScalarNode name)
    {
        var feeds = plan.Document.Feeds.Select(line => line.Key.Text);
        if (!feeds.Contains(name.Text, StringComparer.Ordinal) || plan.Feeds.FirstOrDefault(other => other.Key == name.Text) is not { } found)
            names.Unknown(name, "feed", feeds, "write the key of a feed");
        else if (found == feed)
            diagnostics.Add(PlanCodes.ConstraintBroken, name.At, $"'{feed.Key}' cannot be independent of itself", "write the key of another feed, such as room");
        else if (found.IsDirect)
            diagnostics.Add(DocumentCodes.BadValue, name.At, $"'{name.Text}' takes direct outs and has no bus ({found.At.Place}), so it moves no other feed", "remove it here");
        else
            return found;
        return null;
    }

    private void CheckWays(IndependentPair pair)
    {
        foreach (var bus in pair.Of.Buses)
        {
            var reached = Reached(bus);
            if (pair.Feed.Ends.FirstOrDefault(reached.ContainsKey) is not { } end)
                continue;
            var way = new List<string>();
            var at = pair.At;
            for (var step = end; step != bus; step = reached[step].Before)
            {
                way.Insert(0, step.Replace('/', ' '));
                at = reached[step].Edge?.At ?? at;
            }

            if (_reported.Add(at))
                diagnostics.Add(PlanCodes.ConstraintBroken, at,
                    $"{pair.Of.Key} ({bus.Replace('/', ' ')}) goes to {string.Join(", then ", way)}, but '{pair.Said}' stands at {pair.At.Place} (feed '{pair.Feed.Key}')", "feed it from the groups and inputs themselves, or change one of the two lines");
        }
    }

    private void CheckGroups(IndependentPair pair)
    {
        foreach (var bus in pair.Of.Buses)
        {
            foreach (var (kind, number, held) in MembershipsOf(bus))
            {
                foreach (var strip in plan.Profile.Strips)
                {
                    if (pair.Of.Buses.Contains(strip.Path) || Member(strip.Path, kind, number) is not { } member || !Moves(strip.Path, kind, number, pair.Feed) || !_reported.Add(member.At))
                        continue;
                    diagnostics.Add(PlanCodes.ConstraintBroken, member.At,
                        $"{strip.Path.Replace('/', ' ')} and {bus.Replace('/', ' ')} ({held.At.Place}) are both {GroupWords(kind, number)}, which moves '{pair.Feed.Key}' with '{pair.Of.Key}', but '{pair.Said}' stands at {pair.At.Place}",
                        "take one of the two out of it, or change the line");
                }
            }
        }
    }

    private IEnumerable<(string Kind, int Number, Expectation Held)> MembershipsOf(string bus)
    {
        foreach (var kind in (string[])["dca", "mute-group"])
        {
            for (var number = 1; number <= plan.Profile.Counts.Strips(kind); number++)
            {
                if (Member(bus, kind, number) is { } held)
                    yield return (kind, number, held);
            }
        }
    }

    private Expectation? Member(string strip, string kind, int number) => plan.For(plan.Profile.Find($"{strip}/{kind}/{number}")) is { Planned.IsOn: true } member ? member : null;

    // By the strip's own end, or by any planned way that leaves it where the group acts.
    private bool Moves(string strip, string kind, int number, Feed feed)
    {
        if (feed.Buses.Contains(strip))
            return true;
        var onward = _routes.Value.EdgesFrom(strip).Select(edge => (edge.Bus, Edge: (Expectation?)edge.Edge)).Concat((_loops.Value.GetValueOrDefault(strip) ?? []).Select(to => (Bus: to, Edge: default(Expectation))));
        return onward.Any(way => (feed.Ends.Contains(way.Bus) || feed.Ends.Any(Reached(way.Bus).ContainsKey)) && Acts(way.Edge, kind, number));
    }

    // Where a send is taken is often left to the desk: then it may be anywhere but at the input.
    private bool Acts(Expectation? edge, string kind, int number)
    {
        var tap = edge is null ? "post-fader" : TapOf(plan.Profile.Settings[edge.Setting].Path);
        var post = tap is "post-fader" or "post-pan";
        var muted = post || (tap != "input" && plan.Profile.Behaviour.MuteStopsPreFader);
        return kind == "mute-group" ? muted : (muted && plan.Profile.Find($"dca/{number}/on") >= 0) || ((post || (muted && plan.Profile.Behaviour.DcaMovesPreFader)) && plan.Profile.Find($"dca/{number}/fader") >= 0);
    }

    private string TapOf(string edge)
    {
        var path = edge.EndsWith("/direct-out", StringComparison.Ordinal) ? edge + "/tap" : edge.Contains("/send/", StringComparison.Ordinal) ? edge[..^"on".Length] + "tap" : "";
        var tap = plan.Profile.Find(path);
        return tap < 0 ? "post-fader" : plan.For(tap) is { } planned ? plan.Profile.Format(planned.Planned) : "";
    }

    private Dictionary<string, (string Before, Expectation? Edge)> Reached(string from)
    {
        if (_reached.TryGetValue(from, out var reached))
            return reached;
        _reached.Add(from, reached = new Dictionary<string, (string, Expectation?)>(StringComparer.Ordinal));
        var waiting = new Queue<string>([from]);
        while (waiting.TryDequeue(out var at))
        {
            foreach (var (bus, edge) in _routes.Value.EdgesFrom(at))
            {
                if (bus != from && reached.TryAdd(bus, (at, edge)))
                    waiting.Enqueue(bus);
            }

            foreach (var strip in _loops.Value.GetValueOrDefault(at) ?? [])
            {
                if (strip != from && reached.TryAdd(strip, (at, null)))
                    waiting.Enqueue(strip);
            }
        }

        return reached;
    }

    // Effects, and inputs that the plan patches to a bus.
    private static Dictionary<string, List<string>> Loops(ShowPlan plan)
    {
        var loops = EffectReturns.Of(plan.Document);
        foreach (var expectation in plan.Expectations)
        {
            var setting = plan.Profile.Settings[expectation.Setting];
            if (setting.Kind is not { StripKind: "input", Suffix: "source" } || plan.Profile.Format(expectation.Planned).Split(' ') is not [var kind, var number, ..] || !SettingCatalogue.BusKinds.Contains(kind))
                continue;
            if (!loops.TryGetValue($"{kind}/{number}", out var strips))
                loops.Add($"{kind}/{number}", strips = []);
            strips.Add(plan.Profile.Strips[setting.Strip].Path);
        }

        return loops;
    }

    private string GroupWords(string kind, int number)
    {
        var name = (kind == "dca" ? plan.Document.Dcas : plan.Document.MuteGroups).FirstOrDefault(item => item.Number == number)?.Name.Text;
        return $"{(kind == "dca" ? "on DCA" : "in mute group")} {number}{(name is null ? "" : $" ({name})")}";
    }
}
