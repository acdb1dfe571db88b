using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A second way of opposed polarity that takes away what must arrive, told at the patch or the polarity switch that makes it.</summary>
/// <param name="rule">The rule.</param>
/// <param name="setting">The strip's patch or polarity.</param>
/// <param name="strip">The strip in the middle of the second way.</param>
/// <param name="facts">The plan's facts.</param>
internal sealed class CancelledCheck(RuleInfo rule, Setting setting, StripStages strip, AuditFacts facts)
    : RuleCheck(rule, setting.Id, strip.Source >= 0 ? [strip.Source, strip.Polarity] : [strip.Polarity])
{
    // No plan line needs to name it; what one names is coverage.
    public override bool PassesOverUnseen => true;

    public override bool YieldsToOthers => true;

    public override IReadOnlyList<int> Facts { get; } = [facts.Flow.MustCarry.TurnFactOf(setting.Id)];

    // The strip stands open in the middle of it, wherever else it goes.
    public override IReadOnlyList<int> Explains { get; } = [strip.Polarity, .. ((int[])[strip.Source, strip.On]).Where(id => id >= 0),
        .. facts.Profile.SettingsOf(setting.Strip).ToArray().Where(id => facts.Profile.Settings[id].Kind.Suffix is "assign/<bus>/#" or "send/<bus>/#/on")];

    public override bool IsViolated(DeskState state) => facts.Flow.MustCarry.IsCancelledBy(Subject);

    public override FindingWords Describe(AuditFacts facts, DeskState state)
    {
        var pairs = facts.Flow.MustCarry.CancelledBy(Subject);
        var feeds = pairs.Select(pair => pair.Feed).Distinct().ToList();
        var names = pairs.Select(MustCarryRule.NameOf).Distinct(StringComparer.Ordinal).ToList();
        var middle = facts.Profile.Strips[setting.Strip];
        var (who, place) = (facts.Words(middle), AuditFacts.Place(middle));
        var where = Sentences.Few([.. feeds.Select(feed => feed.Key)], 2);
        var isPatch = Subject == strip.Source;
        var what = isPatch ? $"{who} takes {facts.Profile.Format(state[strip.Source])} once more, with its polarity turned" : $"{who} has its polarity turned";
        var heard = feeds.Count == 1 && feeds[0].Purpose.IsPublic() ? $"not heard {ListenerWords.Where(feeds[0])}" : "not heard there";
        var act = isPatch ? $"Fader of {place} down first, then mute it; call the engineer to patch its source back" : $"Fader of {place} down first, then turn its polarity back";
        return new FindingWords($"{Sentences.Capital(what)}: {Sentences.Few(names, 2)} cancel{(names.Count == 1 ? "s" : "")} out at {where}",
            "Two ways of opposed polarity take each other away: meters move on every strip, and nothing is heard there.", $"{act}.", middle.Path, who)
        {
            HeardIn = string.Join('\n', feeds.Select(feed => feed.Key)),
            Short = new($"{Sentences.Capital(who)} is turned against {(names.Count == 1 ? names[0] : $"{names[0]} and {names.Count - 1} more")} at {where}: they cancel out", heard,
                isPatch ? $"Fader of {place} down first, then mute it; call the engineer" : $"Fader of {place} down first, then turn its polarity back"),
        };
    }
}
