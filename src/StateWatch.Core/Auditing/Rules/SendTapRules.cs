using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A monitor send taken after the fader, an effects send taken before it. Only sends that are on: elsewhere a wrong tap is a plain
/// drift. Common practice, no source.
/// </summary>
internal sealed class SendTapRules : IAuditRule
{
    private static readonly RuleInfo Monitor = new("monitor-post-fader", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a monitor send follows the room fader", "{0} sends post-fader");

    private static readonly RuleInfo Effects = new("effects-pre-fader", FindingKind.Drift, SeverityByPhase.Of("NNWW"),
        "an effects send does not follow its fader", "{0} sends pre-fader");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Monitor, Effects];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            if (setting.Kind.Suffix != "send/<bus>/#/tap")
                continue;
            var send = setting.Path[..^"/tap".Length];
            var bus = send[(send.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..];
            var on = facts.Profile.Find(send + "/on");
            if (on < 0 || facts.FeedOf(bus) is not { } owner)
                continue;
            if (owner.Feed.Purpose.IsMonitoring() && !IsPost(facts.Profile.Format(expectation.Planned)))
                yield return new Check(Monitor, expectation, on, bus, PostIds(facts.Profile, post: true));
            else if (owner.Feed.Purpose == Purpose.Effects && IsPost(facts.Profile.Format(expectation.Planned)))
                yield return new Check(Effects, expectation, on, bus, PostIds(facts.Profile, post: false));
        }
    }

    private static bool IsPost(string tap) => tap is "post-fader" or "post-pan";

    private static int[] PostIds(DeskProfile profile, bool post) => post
        ? [profile.Texts.Intern("post-fader"), profile.Texts.Intern("post-pan")]
        : [profile.Texts.Intern("pre-fader"), profile.Texts.Intern("pre-eq"), profile.Texts.Intern("pre-insert"), profile.Texts.Intern("post-dynamics"), profile.Texts.Intern("input")];

    private sealed class Check(RuleInfo rule, Expectation expectation, int on, string bus, int[] wrong) : RuleCheck(rule, expectation.Setting, [expectation.Setting, on])
    {
        public override bool IsViolated(DeskState state)
        {
            var live = state[expectation.Setting];
            return state[on].IsOn && !expectation.Allows(live) && live.Kind == ValueKind.Choice && Array.IndexOf(wrong, live.TextId) >= 0;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
            var who = facts.Words(strip);
            var feed = facts.FeedOf(bus)!.Value.Feed;
            var planned = facts.Profile.Format(expectation.Planned);
            var live = facts.Profile.Format(state[expectation.Setting]);
            return Rule == Monitor
                ? new FindingWords($"{who} goes to {facts.BusWords(bus)} {live}, planned {planned}", "Room faders move somebody's monitor mix.",
                    $"Send down first, then set the send of {AuditFacts.Place(strip)} to {bus.Replace('/', ' ')} to {planned}.", bus, facts.BusWords(bus))
                {
                    Short = new($"{who} to {facts.BusWords(bus)} is {live}", "room faders move it", $"Send down first, then {planned}", $"Each send down first, then {planned}"),
                }
                : new FindingWords($"{who} goes to the effect {facts.BusWords(bus)} {live}, planned {planned}", "The effect stays when the voice is faded out.",
                    $"Send down first, then set the send of {AuditFacts.Place(strip)} to {feed.Key} ({bus.Replace('/', ' ')}) to {planned}.", bus, facts.BusWords(bus))
                {
                    Short = new($"{who} to {facts.BusWords(bus)} is {live}", "the effect stays on", $"Send down first, then {planned}", $"Each send down first, then {planned}"),
                };
        }
    }
}
