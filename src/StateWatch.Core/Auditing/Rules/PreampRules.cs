using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Phantom power at the socket a channel is planned to use. Common practice, no source.</summary>
internal sealed class PreampRules : IAuditRule
{
    private static readonly RuleInfo Missing = new("phantom-missing", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "a condenser microphone has no phantom power", "{0} sockets without phantom power");

    private static readonly RuleInfo Unexpected = new("phantom-unexpected", FindingKind.Drift, SeverityByPhase.Of("NWWW"),
        "phantom power where none was planned", "{0} sockets with phantom power");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Missing, Unexpected];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            if (facts.Profile.Settings[expectation.Setting].Kind.Suffix == "phantom")
                yield return new ExpectationCheck(expectation.Planned.IsOn ? Missing : Unexpected, expectation, null, Describe);
        }
    }

    private static FindingWords Describe(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var socket = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var who = facts.StripOn(socket.Path) is { } strip ? facts.Words(strip.Strip) : AuditFacts.Place(socket);
        var name = facts.NameOf(socket) ?? Sentences.Capital(AuditFacts.Place(socket));
        var cause = $"{socket.Kind}/{socket.Bank}";
        return expectation.Planned.IsOn
            ? new FindingWords($"{who}: phantom power is off at {AuditFacts.Place(socket)}", $"{name} is silent or very weak.",
                $"{Sentences.Capital(AuditFacts.Place(FindStrip(facts, socket)))}: fader down and mute everywhere first; then phantom power on at {AuditFacts.Place(socket)}, and wait ten seconds.", cause, $"Sockets {socket.Bank}")
            {
                Short = new($"{who} has no phantom power", "it is silent or weak", "Fader down; call the engineer", "Faders down; call the engineer"),
            }
            : new FindingWords($"{who}: phantom power is on at {AuditFacts.Place(socket)}, planned off", "It can harm some ribbon microphones and devices, and switching it makes a loud bang in an open channel.",
                $"Ask the engineer; fader down and mute everywhere first, then phantom power off at {AuditFacts.Place(socket)}, and wait ten seconds.", cause, $"Sockets {socket.Bank}")
            {
                Short = new($"{who} has phantom power, planned off", "it can harm some microphones; switching it bangs", "Do not switch it; call the engineer"),
            };
    }

    private static Profiles.Strip FindStrip(AuditFacts facts, Profiles.Strip socket) => facts.StripOn(socket.Path)?.Strip ?? socket;
}
