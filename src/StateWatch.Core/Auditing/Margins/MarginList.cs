namespace StateWatch.Core.Auditing.Margins;

/// <summary>What a report says about margins, whether or not a rule found anything.</summary>
internal static class MarginList
{
    /// <summary>The lines, of the state that was loaded last: all together, each coupled microphone alone, the largest rise, and what is open where.</summary>
    public static List<LoopMargin> Of(AuditFacts facts)
    {
        var list = new List<LoopMargin>();
        if (!facts.Loops.IsApplicable)
            return list;
        if (facts.Plan.Couplings.Count > 0)
            list.Add(Together(facts));
        for (var microphone = 0; microphone < facts.Plan.Microphones.Count; microphone++)
        {
            if (facts.Loops.Coupled.IsCoupled(microphone))
                list.Add(Alone(facts, microphone));
        }

        if (facts.Loops.Hot.Largest() is { } hot)
            list.Add(Named(facts, new LoopMargin(MarginKind.Rise) { Closer = hot.Rise }, hot.Microphone, hot.Loudspeaker));
        for (var loudspeaker = 0; loudspeaker < facts.Plan.Loudspeakers.Count; loudspeaker++)
        {
            var feed = facts.Plan.Feeds[facts.Plan.Loudspeakers[loudspeaker].Feed];
            var open = facts.Loops.Coupled.OpenMicrophones(loudspeaker);
            list.Add(new LoopMargin(MarginKind.Open) { Loudspeaker = facts.Plan.Loudspeakers[loudspeaker].Words, OpenMicrophones = double.IsNaN(open) ? null : open, MostOpen = feed.MostOpen });
        }

        return list;
    }

    private static LoopMargin Together(AuditFacts facts)
    {
        var (coupled, heaviest) = (facts.Loops.Coupled, facts.Loops.Coupled.Heaviest());
        var margin = new LoopMargin(MarginKind.Now)
        {
            Margin = coupled.Together.Power,
            InPhase = coupled.Together.Coherent,
            Planned = coupled.Planned.Power,
            Closer = Closer(coupled.Planned.Power, coupled.Together.Power),
        };
        return heaviest is not { } pair || coupled.LineOf(pair.Microphone, pair.Feed) < 0 ? margin : Sourced(facts, Named(facts, margin with { WinBack = Words(facts, facts.Loops.Trials.BestTogether()) }, pair.Microphone, pair.Feed), coupled.LineOf(pair.Microphone, pair.Feed), coupled.HasLine(pair.Microphone, pair.Feed));
    }

    private static LoopMargin Alone(AuditFacts facts, int microphone)
    {
        var coupled = facts.Loops.Coupled;
        var (margins, loudest) = coupled.Alone(microphone);
        var planned = coupled.PlannedAlone(microphone);
        var margin = Named(facts, new LoopMargin(MarginKind.Microphone)
        {
            Margin = margins.Power,
            InPhase = margins.Coherent,
            Planned = planned.Power,
            Closer = Closer(planned.Power, margins.Power),
        }, microphone, loudest);
        if (loudest < 0)
            return margin;
        var line = coupled.LineOf(microphone, loudest);
        var geometry = facts.Plan.Couplings[line].Geometry ?? facts.Plan.Couplings[line].Estimate?.Geometry;
        var open = coupled.OpenMicrophones(loudest);
        return Sourced(facts, margin with
        {
            WinBack = margin.Closer > 0 ? Words(facts, facts.Loops.Trials.BestAlone(microphone)) : null,
            PotentialGain = geometry?.PotentialGain(double.IsNaN(open) ? 1 : Math.Max(1, open)),
            NeededGain = geometry?.NeededGain,
        }, line);
    }

    private static double Closer(double planned, double margin) => planned.Equals(margin) ? 0 : planned - margin;

    private static LoopMargin Named(AuditFacts facts, LoopMargin margin, int microphone, int loudspeaker) => margin with
    {
        Microphone = facts.Plan.Microphones[microphone].Strip.Path,
        MicrophoneName = facts.Words(facts.Plan.Microphones[microphone].Strip),
        Loudspeaker = loudspeaker < 0 ? null : facts.Plan.Loudspeakers[loudspeaker].Words,
    };

    // A pair that takes part by another loudspeaker rests on several couplings: the worst of them counts.
    private static LoopMargin Sourced(AuditFacts facts, LoopMargin margin, int line, bool isExact = true) => margin with
    {
        Source = facts.Plan.Couplings[line].IsMeasured && isExact ? "measured" : "estimate",
        Spread = isExact ? facts.Loops.References.SpreadOf(line) : LoopReferences.Estimated,
        Stale = facts.Loops.References.StaleOf(line),
        At = facts.Plan.Couplings[line].At,
    };

    private static WinBack? Words(AuditFacts facts, Remedy? remedy) =>
        remedy is { } found ? new WinBack(facts.Profile.Settings[found.Setting].Path, facts.Profile.Format(found.To), found.By) : null;
}
