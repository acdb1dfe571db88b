using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Gain and pad at a planned socket: they move every mix at once, monitors and stream too. Common practice, no source.</summary>
internal sealed class GainRules : IAuditRule
{
    private static readonly RuleInfo Gain = new("gain-moved", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "the gain of a microphone was moved", "{0} gains moved");

    private static readonly RuleInfo Pad = new("pad-changed", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a pad was switched", "{0} pads switched");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Gain, Pad];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var kind = facts.Profile.Settings[expectation.Setting].Kind;
            if (kind is { StripKind: "socket", Suffix: "gain" })
                yield return new ExpectationCheck(Gain, expectation, null, DescribeGain);
            else if (kind is { StripKind: "socket", Suffix: "pad" })
                yield return new ExpectationCheck(Pad, expectation, null, DescribePad);
        }
    }

    private static FindingWords DescribeGain(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var (socket, who) = Owners(facts, expectation);
        var planned = facts.Profile.Format(expectation.Planned);
        var up = live.Number > expectation.Planned.Number;
        return new FindingWords($"{who}: gain at {AuditFacts.Place(socket)} is {facts.Profile.Format(live)}, planned {AllowedText.Of(expectation, facts.Profile)}",
            up ? "It is louder in every mix at once, monitors and stream as well; feedback comes sooner." : "It is softer in every mix at once, monitors and stream as well.",
            $"Fader down first and its sends too, then gain {planned} at {AuditFacts.Place(socket)}; leave this to the engineer.", $"socket/{socket.Bank}", $"Sockets {socket.Bank}")
        {
            Short = new($"{who} has its gain at {facts.Profile.Format(live)}, not {planned}", up ? "louder everywhere at once" : "softer everywhere at once", "Fader down; call the engineer", "Faders down; call the engineer"),
        };
    }

    private static FindingWords DescribePad(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var (socket, who) = Owners(facts, expectation);
        return new FindingWords($"{who}: the pad at {AuditFacts.Place(socket)} is {(live.IsOn ? "in" : "out")}, planned {(live.IsOn ? "out" : "in")}",
            live.IsOn ? "It is much softer in every mix, and noisy once somebody makes up for it." : "It is much louder in every mix at once, and distorts.",
            $"Ask the engineer; fader down and mute everywhere first, then the pad {(live.IsOn ? "out" : "in")} at {AuditFacts.Place(socket)}.", $"socket/{socket.Bank}", $"Sockets {socket.Bank}")
        {
            Short = new($"{who} has its pad {(live.IsOn ? "in" : "out")}", live.IsOn ? "much too soft everywhere" : "much too loud everywhere, and distorted", "Fader down; call the engineer", "Faders down; call the engineer"),
        };
    }

    private static (Strip Socket, string Who) Owners(AuditFacts facts, Expectation expectation)
    {
        var socket = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        return (socket, facts.StripOn(socket.Path) is { } strip ? facts.Words(strip.Strip) : Sentences.Capital(AuditFacts.Place(socket)));
    }
}
