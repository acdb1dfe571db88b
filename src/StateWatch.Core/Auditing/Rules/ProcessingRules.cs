using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Polarity, gate and ducker keys, automix, pan of stereo sends, direct outs. Common practice, no source.</summary>
internal sealed class ProcessingRules : IAuditRule
{
    private static readonly RuleInfo Polarity = new("polarity-changed", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "the polarity of a strip was turned", "{0} polarities turned");

    private static readonly RuleInfo Key = new("gate-key-wrong", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a gate or ducker listens to the wrong signal", "{0} gates or duckers listen to the wrong signal");

    private static readonly RuleInfo Automix = new("automix-member-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a microphone fell out of the automix", "{0} microphones outside the automix");

    private static readonly RuleInfo PanFollow = new("send-without-pan", FindingKind.Drift, SeverityByPhase.Of("NWNN"),
        "a stereo send does not follow the pan", "{0} sends do not follow the pan");

    private static readonly RuleInfo DirectOut = new("direct-out-post-fader", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a direct out follows the fader", "{0} direct outs follow the fader");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Polarity, Key, Automix, PanFollow, DirectOut];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var none = facts.Profile.Texts.Intern("none");
        var post = facts.Profile.Texts.Intern("post-fader");
        foreach (var expectation in facts.Plan.Expectations)
        {
            switch (facts.Profile.Settings[expectation.Setting].Kind.Suffix)
            {
                case "polarity":
                    yield return new ExpectationCheck(Polarity, expectation, null, DescribePolarity);
                    break;
                case "gate/key":
                    yield return new ExpectationCheck(Key, expectation, null, DescribeKey);
                    break;
                case "automix" when expectation.Planned.Kind == ValueKind.Switch ? expectation.Planned.IsOn : expectation.Planned.TextId != none:
                    yield return new ExpectationCheck(Automix, expectation, null, DescribeAutomix);
                    break;
                case "send/<bus>/#/pan-follow" when expectation.Planned.IsOn:
                    yield return new ExpectationCheck(PanFollow, expectation, null, DescribePanFollow);
                    break;
                case "direct-out/tap":
                    yield return new ExpectationCheck(DirectOut, expectation, live => live.TextId == post, DescribeDirectOut);
                    break;
            }
        }
    }

    private static Strip StripOf(AuditFacts facts, Expectation expectation) => facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];

    private static FindingWords DescribePolarity(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        var word = facts.Profile.Format(expectation.Planned);
        return new FindingWords($"{facts.Words(strip)}: polarity is {facts.Profile.Format(live)}, planned {word}", "It turns thin or hollow where it meets other microphones or loudspeakers.",
            $"Fader down first, then polarity {word}: {AuditFacts.Place(strip)}.", facts.StripOf(strip.Id)?.Role ?? strip.Path, $"Polarity of {facts.StripOf(strip.Id)?.Role ?? facts.Words(strip)}")
        {
            Short = new($"{facts.Words(strip)} has its polarity turned", "thin, hollow sound", "Fader down first, then turn it back", "Faders down first, then turn them back"),
        };
    }

    private static FindingWords DescribeKey(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        var (heard, planned) = (facts.Profile.Format(live), facts.Profile.Format(expectation.Planned));
        return new FindingWords($"{facts.Words(strip)}: gate or ducker listens to {heard}, planned {planned}", "It stays low, or does not make way, whoever speaks.",
            $"Fader down first, then set the key of {AuditFacts.Place(strip)} to {planned}.", planned, $"Listening to {planned}")
        {
            Short = new($"{facts.Words(strip)} makes way for {heard}, not for {planned}", "it stays low, or covers speech", "Fader down first, then set its key back", "Faders down first, then set their keys back"),
        };
    }

    private static FindingWords DescribeAutomix(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        return new FindingWords($"{facts.Words(strip)} is not in the automix", "It stays open while others speak: hollow voices, and feedback comes sooner.",
            $"Fader down first, then put {AuditFacts.Place(strip)} into the automix.", "automix", "The automix")
        {
            Short = new($"{facts.Words(strip)} is not in the automix", "too many microphones open at once, hollow voices", "Fader down first, then put it in", "Faders down first, then put them in"),
        };
    }

    private static FindingWords DescribePanFollow(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        var path = facts.Profile.Settings[expectation.Setting].Path;
        var bus = path[(path.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..^"/pan-follow".Length];
        return new FindingWords($"{facts.Words(strip)} does not follow its pan into {facts.BusWords(bus)}", "Left and right collapse into the middle.",
            $"Send down first, then let the send of {AuditFacts.Place(strip)} to {bus.Replace('/', ' ')} follow the pan.", bus, facts.BusWords(bus))
        {
            Short = new($"{facts.Words(strip)} to {facts.BusWords(bus)} ignores its pan", "no left and right", "Send down first, then let it follow the pan", "Each send down first, then let it follow the pan"),
        };
    }

    private static FindingWords DescribeDirectOut(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var strip = StripOf(facts, expectation);
        var planned = facts.Profile.Format(expectation.Planned);
        return new FindingWords($"{facts.Words(strip)}: the direct out is taken {facts.Profile.Format(live)}, planned {planned}", "Recordings and whoever else takes it fade with the room.",
            $"Fader down first, then set the direct out of {AuditFacts.Place(strip)} to {planned}.", "direct-outs", "Direct outs")
        {
            Short = new($"{facts.Words(strip)} has its direct out after the fader", "recordings fade with the room", $"Fader down first, then {planned}", $"Faders down first, then {planned}"),
        };
    }
}
