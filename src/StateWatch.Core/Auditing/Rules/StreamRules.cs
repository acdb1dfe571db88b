using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A stream or recording that follows the room: fed from a room bus where the plan feeds it otherwise, or from behind faders where the
/// plan wants it before them. Where the plan says <c>independent-of</c>, ways from those buses are told by <see cref="FeedDependsRule"/>, however long they are. Common practice, no source.
/// </summary>
internal sealed class StreamRules : IAuditRule
{
    private static readonly RuleInfo Info = new("stream-follows-room", FindingKind.Drift, SeverityByPhase.Of("WWUU"),
        "a stream or recording follows the room's faders", "{0} ways by which it follows the room");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            if (setting.Kind.Suffix is not ("send/<bus>/#/on" or "send/<bus>/#/tap"))
                continue;
            var send = setting.Path[..setting.Path.LastIndexOf('/')];
            var bus = send[(send.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..];
            if (facts.FeedOf(bus) is not { Feed.Purpose: Purpose.Stream or Purpose.Record })
                continue;
            var strip = facts.Profile.Strips[setting.Strip].Path;
            var isTap = setting.Kind.Suffix.EndsWith("tap", StringComparison.Ordinal);
            var other = facts.Profile.Find(send + (isTap ? "/on" : "/level"));
            if (isTap && other >= 0 && facts.Profile.Format(expectation.Planned) is not ("post-fader" or "post-pan"))
                yield return new Check(expectation, setting, other, bus, [facts.Profile.Texts.Intern("post-fader"), facts.Profile.Texts.Intern("post-pan")]);
            else if (!isTap && !expectation.Planned.IsOn && facts.FeedOf(strip) is { Feed.Purpose: Purpose.Room } room && !facts.Plan.Independent.Any(pair => pair.Feed == facts.FeedOf(bus)!.Value.Feed && pair.Of == room.Feed))
                yield return new Check(expectation, setting, other, bus, null);
        }
    }

    private sealed class Check(Expectation expectation, Setting setting, int other, string bus, int[]? postTaps)
        : RuleCheck(Info, setting.Id, other >= 0 ? [setting.Id, other] : [setting.Id])
    {
        public override bool IsViolated(DeskState state)
        {
            var live = state[setting.Id];
            return postTaps is null
                ? live.IsOn && (other < 0 || !double.IsNegativeInfinity(state[other].Number))
                : !expectation.Allows(live) && state[other].IsOn && Array.IndexOf(postTaps, live.TextId) >= 0;
        }

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[setting.Strip];
            var target = bus.Replace('/', ' ');
            var feed = facts.FeedOf(bus)!.Value.Feed;
            var cause = $"Feed {feed.Key}";
            const string why = "When somebody moves or closes the room's faders, it moves or dies with them.";
            if (postTaps is null)
            {
                return new FindingWords($"{facts.BusWords(bus)} is fed from {facts.BusWords(strip.Path)}, which the plan does not want", why,
                    $"Switch it off: {AuditFacts.Place(strip)}, send to {target}.", feed.Key, cause)
                {
                    Short = new($"{facts.BusWords(bus)} is fed from {facts.BusWords(strip.Path)}", "it dies with the room fader", $"Switch its send to {target} off", "Switch these routes off"),
                };
            }

            var planned = facts.Profile.Format(expectation.Planned);
            var live = facts.Profile.Format(state[setting.Id]);
            return new FindingWords($"{facts.Words(strip)} goes to {facts.BusWords(bus)} {live}, planned {planned}", why,
                $"Send down first, then set the send of {AuditFacts.Place(strip)} to {target} to {planned}.", feed.Key, cause)
            {
                Short = new($"{facts.Words(strip)} to {facts.BusWords(bus)} is {live}", "the room's faders move it", $"Send down first, then {planned}", $"Each send down first, then {planned}"),
            };
        }
    }
}
