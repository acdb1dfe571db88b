using System.Globalization;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// More microphones are open at a loudspeaker than its feed allows. Each doubling of equally open ones costs 3 dB of gain before feedback
/// (10 lg NOM; Davis; Ballou, Handbook for Sound Engineers). Counted as Σg²/max g²: ten that are 20 dB down are a tenth of one.
/// </summary>
internal sealed class TooManyOpenRule : IAuditRule
{
    // A hair over the number is nobody's business.
    private const double Tolerance = 0.5;

    private static readonly RuleInfo Info = new("too-many-open", FindingKind.Risk, SeverityByPhase.Of("-NWW"),
        "more open microphones at a loudspeaker than planned", "{0} loudspeakers with too many open microphones");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        for (var number = 0; number < facts.Plan.Loudspeakers.Count; number++)
        {
            var feed = facts.Plan.Feeds[facts.Plan.Loudspeakers[number].Feed];
            if (feed.MostOpen is { } most && facts.Profile.FindStrip(LoopWords.CauseOf(facts, number)) is { } bus && facts.Profile.SettingsOf(bus.Id) is { Length: > 0 } settings)
                yield return new Check(number, most, settings[0], facts);
        }
    }

    private sealed class Check(int loudspeaker, int most, int subject, AuditFacts facts) : RuleCheck(Info, subject, [])
    {
        public override IReadOnlyList<int> Facts { get; } = [facts.Loops.OpenFact];

        public override bool ClaimsSubject => false;

        public override string SubjectPath(DeskState state) => LoopWords.CauseOf(facts, loudspeaker);

        public override (string Planned, string Live, Documents.Origin At)? Shown =>
            ($"at most {most}", Count, facts.Plan.Feeds[facts.Plan.Loudspeakers[loudspeaker].Feed].At);

        private string Count => facts.Loops.Coupled.OpenMicrophones(loudspeaker).ToString("0.0", CultureInfo.InvariantCulture);

        public override bool IsViolated(DeskState state) => facts.Loops.Coupled.OpenMicrophones(loudspeaker) > most + Tolerance;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var where = LoopWords.Of(facts, loudspeaker);
            var count = facts.Loops.Coupled.OpenMicrophones(loudspeaker);
            var cost = 10 * Math.Log10(count / most);
            var names = facts.Loops.OpenAt(loudspeaker).Select(number => facts.Plan.Microphones[number].Name).ToList();
            return new FindingWords($"{Sentences.Capital(where)}: {Sentences.Count(names.Count, "microphone")} open, as much as {Count} equally loud ones, planned at most {most}",
                string.Create(CultureInfo.InvariantCulture, $"About {cost:0} dB less gain before feedback for everyone there, and more of the room in every voice. Loudest: {Sentences.Few(names, 4)}."),
                "Faders down of those that nobody speaks or sings into.", LoopWords.CauseOf(facts, loudspeaker), where)
            {
                Short = new($"{names.Count} microphones are open in {where}, too many", "hollow, and it squeals sooner", "Faders down of those that nobody speaks or sings into"),
            };
        }
    }
}
