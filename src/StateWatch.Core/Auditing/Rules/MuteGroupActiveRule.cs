using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// A mute group that is active where a plan line says it must not be. Mute groups are played like keys, so nothing is told without such a
/// line; with one, no freed class hides it. Common practice, no source.
/// </summary>
internal sealed class MuteGroupActiveRule : IAuditRule
{
    private const int MostNames = 3;

    private static readonly RuleInfo Info = new("muted-by-group", FindingKind.Risk, SeverityByPhase.Of("NNWN"),
        "a mute group is active that the plan wants released", "{0} mute groups are active");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) =>
        from expectation in facts.Plan.Expectations
        where facts.Profile.Settings[expectation.Setting].Kind is { StripKind: "mute-group", Suffix: "active" } && !expectation.Planned.IsOn
        select new ExpectationCheck(Info, expectation, null, Describe);

    private static FindingWords Describe(AuditFacts facts, Expectation expectation, SettingValue live)
    {
        var group = facts.Profile.Strips[facts.Profile.Settings[expectation.Setting].Strip];
        var members = facts.Plan.Strips.Where(strip => facts.Plan.For(facts.Profile.Find($"{strip.Strip.Path}/{group.Path}")) is { Planned.IsOn: true }).Select(strip => strip.Name).ToList();
        var silent = members.Count == 0 ? "its members are silent" : $"{Sentences.Few(members, MostNames)} {(members.Count == 1 ? "is" : "are")} silent";
        return new FindingWords($"{facts.Words(group)} is active", Sentences.Capital(silent) + ", whatever their own mutes say.",
            $"Ask who pressed it; their faders down first, then release {AuditFacts.Place(group)} and bring them up slowly.", "mute-groups", "Mute groups")
        {
            Short = new($"{facts.Words(group)} is on", members.Count == 0 ? silent : $"silent because of it, {Sentences.Few(members, MostNames)}", "Ask who pressed it; their faders down first, then release it", "Ask who pressed them; all faders down first, then release them"),
        };
    }
}
