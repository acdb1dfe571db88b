using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// An open microphone that goes far louder than planned into a loudspeaker on stage. 6 dB is the feedback stability margin that handbooks
/// leave below the point of ringing (Davis and Patronis, Sound System Engineering; Ballou, Handbook for Sound Engineers): who goes 6 dB over
/// a level set with that margin has used it up. Judged from the send alone; how near the microphone stands nobody knows here.
/// </summary>
internal sealed class HotMonitorRule : IAuditRule
{
    private const double Margin = 6;

    private static readonly RuleInfo Info = new("mic-hot-in-monitor", FindingKind.Risk, SeverityByPhase.Of("--WW"),
        "an open microphone is far louder in a stage monitor than planned", "{0} microphones far louder than planned");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        foreach (var expectation in facts.Plan.Expectations)
        {
            var setting = facts.Profile.Settings[expectation.Setting];
            // What musicians may turn themselves is theirs.
            if (setting.Kind.Suffix != "send/<bus>/#/level" || facts.Plan.LockOf(setting.Id) == PhaseLock.Free || facts.StripOf(setting.Strip) is not { OpenMic: true })
                continue;
            var send = setting.Path[..^"/level".Length];
            var bus = send[(send.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..];
            if (facts.FeedOf(bus) is { Feed.Purpose: Purpose.Monitor } && facts.Profile.Find($"{send}/on") is var on && facts.Plan.For(on) is not { Planned.IsOn: false })
                yield return new Check(expectation, on, bus);
        }
    }

    private sealed class Check(Expectation expectation, int on, string bus) : RuleCheck(Info, expectation.Setting, on >= 0 ? [expectation.Setting, on] : [expectation.Setting])
    {
        // The level itself is planned, so coverage tells when it was not seen.
        public override bool PassesOverUnseen => true;

        public override bool IsViolated(DeskState state) => (on < 0 || state[on].IsOn) && state[Subject].Number >= expectation.Planned.Number + Margin;

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var strip = facts.Profile.Strips[facts.Profile.Settings[Subject].Strip];
            var (live, planned) = (facts.Profile.Format(state[Subject]), facts.Profile.Format(expectation.Planned));
            var over = state[Subject].Number - expectation.Planned.Number;
            return new FindingWords($"{facts.Words(strip)} goes to {facts.BusWords(bus)} at {live}, planned {planned}",
                $"It is {over:0} dB louder there than planned: it squeals that much sooner, and first when somebody steps nearer.",
                $"Bring it down to {planned}: {AuditFacts.Place(strip)}, send to {bus.Replace('/', ' ')}.", bus, facts.BusWords(bus))
            {
                Short = new($"{facts.Words(strip)} is {over:0} dB over plan in {facts.BusWords(bus)}", "it squeals sooner", $"Bring it down to {planned}", "Bring it down as planned, each of them"),
            };
        }
    }
}
