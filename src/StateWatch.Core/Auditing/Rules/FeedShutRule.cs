using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A feed that people listen to whose bus or output is muted, or whose bus fader is fully down: whatever is sent to it, nothing leaves.
/// A risk, not a drift: plans rarely say that the room is open. Monitors are left to the hands of those who wear them. Common practice, no
/// source.
/// </summary>
internal sealed class FeedShutRule : IAuditRule
{
    private static readonly RuleInfo Info = new("feed-shut", FindingKind.Risk, SeverityByPhase.Of("-NWU"),
        "a feed's bus or output is muted or fully down", "{0} ways out are shut");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var feed in facts.Plan.Feeds)
        {
            if (!feed.Purpose.IsPublic())
                continue;
            foreach (var path in feed.Buses.SelectMany(bus => (string[])[$"{bus}/on", $"{bus}/fader"]).Concat(feed.Outputs.Select(output => $"{output}/on")))
            {
                // What the plan itself wants shut is no risk.
                if (facts.Profile.Find(path) is >= 0 and var setting && !(facts.Plan.For(setting) is { } expectation && Shut.Is(expectation.Planned)))
                    yield return new Check(setting, feed);
            }
        }
    }

    private sealed class Check(int setting, Feed feed) : RuleCheck(Info, setting, [setting])
    {
        // Where no plan line names it, coverage says nothing of it; a feed is not called silent because a mute was not seen.
        public override bool PassesOverUnseen => true;

        // A fader fully down may be a fade; nobody fades with the mute of a whole feed.
        public override bool MayBeMomentary(DeskState state) => state[Subject].Kind != Settings.ValueKind.Switch;

        public override bool CountsWhenItLasts => false;

        public override bool IsViolated(DeskState state) => Shut.Is(state[Subject]);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var (strip, place) = (facts.Profile.Strips[facts.Profile.Settings[Subject].Strip], AuditFacts.Place(facts.Profile.Strips[facts.Profile.Settings[Subject].Strip]));
            var muted = state[Subject].Kind == Settings.ValueKind.Switch;
            var what = $"{facts.Words(strip)} is {(muted ? "muted" : "fully down")}";
            var heard = ListenerWords.Silent(feed);
            return new FindingWords(what, Sentences.Capital(heard) + ".",
                muted ? $"Ask who muted it; then {feed.Key} fader down first, unmute {place} and bring it up slowly." : $"Ask who took it down; leave it down first, then bring {place} up slowly while somebody listens.", feed.Key, $"Feed {feed.Key}")
            {
                Short = new(what, heard, muted ? "Ask who muted it; fader down first, then unmute it and slowly up" : "Ask who took it down; all talkers down first, then slowly up",
                    "Ask who shut them; faders down first, then open them and slowly up"),
            };
        }
    }
}
