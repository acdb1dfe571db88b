using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A source that must arrive at a feed and does not, told at the setting that stops it: one fault is one finding, whoever is silent because
/// of it. The source's own mute and fader are not looked at. Common practice, no source.
/// </summary>
internal sealed class MustCarryRule : IAuditRule
{
    private static readonly RuleInfo Info = new("must-carry-silent", FindingKind.Risk, SeverityByPhase.Of("NWUU"),
        "a listener gets nothing of a source he must hear", "{0} places stop what must arrive");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var setting in facts.Flow.MustCarry.Stages)
            yield return new Check(facts.Profile.Settings[setting], facts);
        foreach (var strip in facts.Flow.MustCarry.Turns)
        {
            if (strip.Source >= 0)
                yield return new CancelledCheck(Info, facts.Profile.Settings[strip.Source], strip, facts);
            yield return new CancelledCheck(Info, facts.Profile.Settings[strip.Polarity], strip, facts);
        }
    }

    /// <summary>What must arrive, in words.</summary>
    internal static string NameOf(MustCarryPair pair) => pair.Sources.Count == 1 ? pair.Sources[0].Strip.Name : $"any of {pair.Sources[0].Strip.Name} to {pair.Sources[^1].Strip.Name}";

    private sealed class Check(Setting setting, AuditFacts facts) : RuleCheck(Info, setting.Id, [setting.Id])
    {
        // Of what a plan line names coverage tells; groups of switches are seldom all mapped.
        public override bool PassesOverUnseen { get; } = facts.Plan.For(setting.Id) is not null || setting.Kind.StripKind is "dca" or "mute-group" or "output" || setting.Kind.Suffix == "pan";

        public override bool YieldsToOthers => true;

        public override IReadOnlyList<int> Facts { get; } = [facts.Flow.MustCarry.FactOf(setting.Id)];

        // A fader fully down may be a fade.
        public override bool MayBeMomentary(DeskState state) => setting.Kind.Suffix == "fader";

        public override bool CountsWhenItLasts => false;

        public override bool IsViolated(DeskState state) => facts.Flow.MustCarry.IsStoppedBy(Subject);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var pairs = facts.Flow.MustCarry.StoppedBy(Subject);
            var feeds = pairs.Select(pair => pair.Feed).Distinct().ToList();
            var names = pairs.Select(NameOf).Distinct(StringComparer.Ordinal).ToList();
            var (stop, act) = Words(facts, state);
            var strip = facts.Profile.Strips[setting.Strip];
            var isEdge = act.StartsWith("put ", StringComparison.Ordinal);
            var who = pairs.TrueForAll(pair => pair.Sources.Count == 1 && pair.Sources[0].Strip.Strip.Id == setting.Strip) ? "it" : Sentences.Few(names, 2);
            var verb = names.Count == 1 ? "does" : "do";
            var where = string.Join(" and ", feeds.Take(2).Select(feed => feed.Key)) + (feeds.Count > 2 ? $" and {feeds.Count - 2} more" : "");
            return new FindingWords($"{stop}: {who} {verb} not arrive at {where}", $"Nothing of {(names.Count == 1 ? "it" : "them")} is heard there, however far the faders are up.",
                $"Fader down first, then {act}.", isEdge ? $"{strip.Path}>{feeds[0].Key}" : strip.Path, isEdge ? $"{facts.Words(strip)} to {feeds[0].Key}" : facts.Words(strip))
            {
                HeardIn = string.Join('\n', feeds.Select(feed => feed.Key)),
                Short = new($"{stop}: {(who == "it" ? who : Sentences.Few(names, 1))} {verb} not reach {Sentences.Few([.. feeds.Select(feed => feed.Key)], 1)}", feeds.Count == 1 && feeds[0].Purpose.IsPublic() ? $"not heard {ListenerWords.Where(feeds[0])}" : "not heard there",
                    setting.Kind.Class == Settings.SettingClass.Patch ? "Fader down; call the engineer" : $"Fader down first, then {(isEdge ? "put that send back" : act.StartsWith("take ", StringComparison.Ordinal) ? "take it out of there" : act)}",
                    isEdge ? "Faders down first, then put these sends back" : "Faders down first, then open them one by one"),
            };
        }

        private string GroupPath => $"{setting.Kind.Suffix[..^2]}/{setting.Path[(setting.Path.LastIndexOf('/') + 1)..]}";

        private string GroupOf(AuditFacts facts) => facts.Profile.FindStrip(GroupPath) is { } group ? facts.Words(group) : GroupPath.Replace('/', ' ');

        private bool GroupIsDown(AuditFacts facts, DeskState state) => facts.Profile.Find($"{GroupPath}/on") is >= 0 and var on && state.IsFresh(on) && state[on].IsOn;

        private (string Stop, string Act) Words(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[setting.Strip];
            var (who, place) = (facts.Words(strip), AuditFacts.Place(strip));
            var live = facts.Profile.Format(state[Subject]);
            if (EdgePaths.BusOf(setting) is { } bus)
                return ($"{who} does not go to {facts.BusWords(bus)}", $"put {place} to {bus.Replace('/', ' ')} back");
            if (setting.Path.IndexOf("/send/", StringComparison.Ordinal) is > 0 and var at && setting.Kind.Suffix.EndsWith("level", StringComparison.Ordinal))
            {
                var target = setting.Path[(at + "/send/".Length)..^"/level".Length];
                return ($"{who} goes to {facts.BusWords(target)} at {live}", $"put the send of {place} to {target.Replace('/', ' ')} back slowly");
            }

            return setting.Kind.Suffix switch
            {
                "dca/#" or "mute-group/#" => ($"{who} hangs on {GroupOf(facts)}, which is {(GroupIsDown(facts, state) ? "down" : "muted")}", $"take {place} out of {GroupOf(facts)}"),
                "on" => ($"{who} is muted", $"unmute {place} and bring it up slowly"),
                "active" => ($"{who} is active", $"release {who}"),
                "fader" => ($"{who} is at {live}", $"bring {place} up slowly"),
                "source" => ($"{who} takes its signal from '{live}'", "call the engineer to patch it back"),
                _ => ($"{who}: {setting.Kind.Words} is {live}", $"set it back at {place}"),
            };
        }
    }
}
