using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A planned source without a signal, where the desk tells: an empty battery, a switch, a cable. Nobody needs to speak for it: an open
/// microphone hears its room. Common practice, no source.
/// </summary>
internal sealed class SignalRule : IAuditRule
{
    // What still counts as a signal, in dB of the desk's own meter: below it not even the room is heard.
    private const double Silence = -60;

    private static readonly RuleInfo Info = new("source-silent", FindingKind.Risk, SeverityByPhase.Of("-WWW"),
        "a planned source gives no signal", "{0} sources without a signal");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var strip in facts.Plan.Strips)
        {
            if (strip.Strip.Kind != "input" || !strip.OpenMic || strip.Socket is null)
                continue;
            var signal = facts.Profile.Find($"{strip.Strip.Path}/signal");
            if (signal < 0)
                signal = facts.Profile.Find($"{strip.Socket}/signal");
            if (signal >= 0)
                yield return new Check(signal, strip.Strip);
        }
    }

    private sealed class Check(int signal, Strip strip) : RuleCheck(Info, signal, [signal])
    {
        // No plan line names the meter.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => state[Subject].Kind == ValueKind.Switch ? !state[Subject].IsOn : !(state[Subject].Number >= Silence);

        public override FindingWords Describe(AuditFacts facts, DeskState state) =>
            new($"{facts.Words(strip)} gives no signal", "Nobody will hear it: battery, switch or cable.", $"Fader down first, then look at battery, switch and cable: {AuditFacts.Place(strip)}.",
                facts.StripOf(strip.Id)?.Role ?? strip.Path, $"Channels of role {facts.StripOf(strip.Id)?.Role}")
            {
                Short = new($"{facts.Words(strip)} gives no signal", "nobody will hear it", "Fader down first, then look at battery, switch, cable", "Faders down first, then look at batteries, switches, cables"),
            };
    }
}
