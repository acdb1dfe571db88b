using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A feed that hangs on another one against the plan's <c>independent-of</c>: its signals pass the other's buses, or a DCA or mute group
/// moves both; told at the connection, tap or membership that makes it so. A source's own mute, fader and DCA move it everywhere, on
/// purpose. Common practice, no source.
/// </summary>
internal sealed class FeedDependsRule : IAuditRule
{
    private static readonly RuleInfo Info = new("feed-depends", FindingKind.Risk, SeverityByPhase.Of("WWUU"),
        "a feed hangs on another one that must not move it", "{0} ways by which it hangs on another feed");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Flow.Dependent.Subjects)
            yield return new Check(facts.Profile.Settings[setting], facts);
    }

    private sealed class Check(Setting setting, AuditFacts facts) : RuleCheck(Info, setting.Id, [setting.Id])
    {
        // Of what a plan line names coverage tells.
        public override bool PassesOverUnseen { get; } = facts.Plan.For(setting.Id) is not null;

        public override IReadOnlyList<int> Facts { get; } = [facts.Flow.Dependent.FactOf(setting.Id)];

        public override bool YieldsToOthers => true;

        public override bool IsViolated(DeskState state) => facts.Flow.Dependent.MadeBy(Subject) is not null;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var all = facts.Flow.Dependent.MadeBy(Subject)!;
            var first = all[0];
            var (feed, other) = (first.Said.Feed.Key, first.Said.Of.Key);
            var feeds = Sentences.Few([.. all.Select(one => one.Said.Feed.Key).Distinct(StringComparer.Ordinal)], 2);
            var said = $"the plan says '{first.Said.Said}' ({first.Said.At.Place})";
            var strip = facts.Profile.Strips[setting.Strip];
            var (what, heard) = first.Member >= 0 ? GroupWords(facts, first) : ($"{facts.BusWords(facts.Profile.Strips[first.Bus].Path)} goes to {Way(facts, first)}", $"the fader, mute and EQ of {other} move it");
            var (act, all2) = Act(facts, state, strip);
            return new FindingWords($"{Sentences.Capital(feeds)} hangs on {other}: {what}", $"{Sentences.Capital(heard)}; {said}.", $"{act}.", feed, $"Feed {feed}")
            {
                Short = new($"{Sentences.Capital(feed)} hangs on {other} by {facts.Words(strip)}", $"it goes when {other} goes", setting.Kind.Class == SettingClass.Patch ? "Fader down; call the engineer" : act, all2),
            };
        }

        private (string Act, string? All) Act(AuditFacts facts, DeskState state, Strip strip)
        {
            var place = AuditFacts.Place(strip);
            if (EdgePaths.BusOf(setting) is { } bus)
                return ($"Switch it off: {place} to {bus.Replace('/', ' ')}", "Switch these routes off");
            return setting.Kind.Suffix switch
            {
                "dca/#" => ($"Faders down first, then take {place} off DCA {LastWord()}", "Faders down first, then take them off"),
                "mute-group/#" => ($"Faders down first, then take {place} out of mute group {LastWord()}", "Faders down first, then take them out"),
                "source" or "direct-out" => ($"Fader down first ({place}), then have the engineer patch it back", null),
                _ => ($"Send down first, then set the {setting.Kind.Words} of {place} back to {(facts.Plan.For(Subject) is { } planned ? facts.Profile.Format(planned.Planned) : "its place")}", "Sends down first, then set the taps back"),
            };
        }

        private string LastWord() => setting.Path[(setting.Path.LastIndexOf('/') + 1)..];

        private static (string What, string Heard) GroupWords(AuditFacts facts, Dependent found)
        {
            var member = facts.Profile.Settings[found.Member];
            var kind = member.Kind.Suffix == "dca/#" ? "dca" : "mute-group";
            var path = $"{kind}/{member.Path[(member.Path.LastIndexOf('/') + 1)..]}";
            var group = facts.Profile.FindStrip(path) is { } strip ? facts.Words(strip) : path.Replace('/', ' ');
            var way = Way(facts, found);
            return ($"{group} moves {facts.BusWords(facts.Profile.Strips[found.Bus].Path)} and {Name(facts, member.Strip)}{(way.Length == 0 ? "" : $", which goes to {way}")}",
                $"whoever takes {found.Said.Of.Key} down by {group} takes it along");
        }

        // The strips behind the first one of the way, in words.
        private static string Way(AuditFacts facts, Dependent found)
        {
            var steps = found.Way.Select(edge => facts.Flow.Map.Nodes[facts.Flow.Map.Edges[edge].To]).Select(node => Name(facts, node.Strip)).Distinct(StringComparer.Ordinal).ToList();
            // Its own output says nothing when it was reached by its bus.
            if (steps.Count > 1)
                steps.RemoveAt(steps.Count - 1);
            return found.Member >= 0 && facts.FeedOf(facts.Profile.Strips[facts.Profile.Settings[found.Member].Strip].Path)?.Feed == found.Said.Feed ? "" : string.Join(", then ", steps);
        }

        private static string Name(AuditFacts facts, int strip) => FlowWords.Step(facts, facts.Profile.Strips[strip].Path);
    }
}
