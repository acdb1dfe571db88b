using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>An output that carries another feed than the planned one. Common practice, no source.</summary>
internal sealed class OtherFeedRule : IAuditRule
{
    private static readonly RuleInfo Info = new("output-on-another-feed", FindingKind.Drift, SeverityByPhase.Of("WUUU"),
        "an output carries another feed", "{0} outputs with another feed");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        // What leaves the desk somewhere, as patch points: the planned sources of all outputs.
        var owners = new Dictionary<int, Feed>();
        foreach (var feed in facts.Plan.Feeds)
        {
            foreach (var output in feed.Outputs)
            {
                if (facts.Plan.For(facts.Profile.Find($"{output}/source")) is { } expectation)
                    owners[expectation.Planned.TextId] = feed;
            }
        }

        foreach (var feed in facts.Plan.Feeds)
        {
            foreach (var output in feed.Outputs)
            {
                if (facts.Plan.For(facts.Profile.Find($"{output}/source")) is { } expectation)
                    yield return new Check(expectation, feed, owners);
            }
        }
    }

    private sealed class Check(Expectation expectation, Feed feed, Dictionary<int, Feed> owners) : RuleCheck(Info, expectation.Setting, [expectation.Setting])
    {
        public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]) && Other(state[Subject]) is not null;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var other = Other(state[Subject])!.Key;
            var planned = facts.Profile.Format(expectation.Planned);
            return new FindingWords($"{facts.Words(strip)} carries the feed '{other}' ({facts.Profile.Format(state[Subject])}), planned {planned}",
                $"Who should hear '{feed.Key}' hears '{other}', perhaps much too loud.",
                $"Bus fader down first, then patch {AuditFacts.Place(strip)} to {planned}; leave this to whoever knows the patch.", feed.Key, $"Feed {feed.Key}")
            {
                Short = new($"{facts.Words(strip)} carries '{other}'", "the wrong mix leaves there, perhaps too loud", "Bus fader down; call the engineer"),
            };
        }

        private Feed? Other(SettingValue live) => owners.TryGetValue(live.TextId, out var found) && found != feed ? found : null;
    }
}
