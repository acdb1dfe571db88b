using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Microphones, loudspeakers and what wins back margin, in words.</summary>
internal static class LoopWords
{
    /// <summary>A loudspeaker: <c>wedges 3 (mix 3)</c>, <c>room (main 1)</c>.</summary>
    public static string Of(AuditFacts facts, int loudspeaker) => BusOf(facts, loudspeaker) is { } bus ? facts.BusWords(bus) : facts.Plan.Loudspeakers[loudspeaker].Words;

    /// <summary>What findings at a loudspeaker are told under.</summary>
    public static string CauseOf(AuditFacts facts, int loudspeaker) => BusOf(facts, loudspeaker) ?? facts.Plan.Feeds[facts.Plan.Loudspeakers[loudspeaker].Feed].Buses[0];

    /// <summary>The subject of a pair: <c>input/30>mix/3</c>.</summary>
    public static string Subject(AuditFacts facts, int microphone, int loudspeaker) => $"{facts.Plan.Microphones[microphone].Strip.Path}>{CauseOf(facts, loudspeaker)}";

    /// <summary>One setting back to a value: <c>input 28, send level to wedges 1 (mix 1) back to -15.0 dB</c>.</summary>
    public static string Back(AuditFacts facts, int setting, SettingValue value) =>
        $"{AuditFacts.Place(facts.Profile.Strips[facts.Profile.Settings[setting].Strip])}, {SettingWords.Of(facts, facts.Profile.Settings[setting])} back to {facts.Profile.Format(value)}";

    private static string? BusOf(AuditFacts facts, int loudspeaker)
    {
        var (feed, position) = (facts.Plan.Feeds[facts.Plan.Loudspeakers[loudspeaker].Feed], facts.Plan.Loudspeakers[loudspeaker].Position);
        return position > 0 ? feed.Buses[position - 1] : feed.Buses.Count == 1 ? feed.Buses[0] : null;
    }
}
