using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Ratios at a feed beyond the room's. Two equal ways of one source add by voltage, 20 lg 2 = 6.02 dB; n sources by power, 10 lg n (Ballou,
/// Handbook for Sound Engineers). What a fill that gets the voices once more is for is common practice, no source.
/// </summary>
public class RatioTests
{
    private const string Show = """
        tolerance: { levels: 30 dB }
        feeds:
          room: { bus: main 1, out: stage 1-2 }
          fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: -10 dB, Voices: FILL } }
        groups: { 1: { name: Voices, to: [room], fader: 0 dB }, 2: { name: Music, to: [room] }, 3: { name: Aside } }
        roles: { talker: { to: [Voices] }, band: { to: [Music] }, guest: { to: [Aside] } }
        inputs: { 1-2: { name: "T{n}", role: talker }, 3-4: { name: "B{n}", role: band }, 5: { name: G, role: guest } }
        """;

    private const string Line = "{ at: fills, of: talker, over: band, be: 6 dB, within: 1.5 dB }";

    [Theory]
    [InlineData("", 6.0206)] // the room at -10 dB and the voices once more at -10 dB
    [InlineData("input/1/on = off; input/1/fader = -20 dB; input/2/fader = -inf; input/3/fader = 5 dB", 6.0206)] // own mutes and faders move both places
    [InlineData("group/2/fader = -5 dB", 6.0206)] // the band softer in the room is softer there too
    [InlineData("main/1/send/matrix/1/level = -20 dB", 12.386)] // 20 lg(1 + 10^(10/20))
    [InlineData("group/1/send/matrix/1/level = -20 dB", 2.387)] // 20 lg(1 + 10^(-10/20))
    [InlineData("group/1/send/matrix/1/on = off", 0.0)]
    [InlineData("input/3/assign/group/1 = on", double.NaN)] // one of two of the band goes the talkers' way as well: see below
    [InlineData("group/2/assign/main/1 = off", null)] // nothing of the band arrives
    public void Ratio_is_what_ways_and_sources_add_up_to(string changes, double? ratio)
    {
        var plan = Plan(Line);
        var reading = Assert.Single(new Auditor(plan).Judge(Changed(plan, changes)).Ratios);
        if (ratio is null)
            Assert.Equal((null, null), (reading.Live, reading.Met));
        else
        {
            Assert.Equal(double.IsNaN(ratio.Value) ? ByHand() : ratio.Value, reading.Live!.Value, 0.001);
            Assert.Equal(Math.Abs(reading.Live.Value - 6) <= 1.5, reading.Met);
        }
    }

    // Voices at the fills are +6.02 dB, the first of the band arrives by both groups there and in the room; voltages of one source, powers of several.
    private static double ByHand()
    {
        var (fill, room) = (Math.Pow(10, -0.5), 1.0);
        var (talkerFill, talkerRoom) = (2 * Math.Pow(2 * fill, 2), 2 * room);
        var (bandFill, bandRoom) = (Math.Pow(fill + 2 * fill, 2) + Math.Pow(fill, 2), Math.Pow(2 * room, 2) + Math.Pow(room, 2));
        return 10 * Math.Log10(talkerFill / bandFill / (talkerRoom / bandRoom));
    }

    [Theory]
    [InlineData("group/1/send/matrix/1/level = -15.2 dB", false)] // 20 lg(1 + 10^(-5.2/20)) = 3.82 dB: 2.2 dB off
    [InlineData("group/1/send/matrix/1/level = -12 dB", null)] // 20 lg(1 + 10^(-2/20)) = 5.08 dB
    [InlineData("group/1/send/matrix/1/level = -6 dB", true)] // 20 lg(1 + 10^(4/20)) = 8.25 dB
    public void What_is_off_by_more_is_told_with_who_hears_too_little(string changes, bool? tooLoud)
    {
        var plan = Plan(Line);
        var found = new Auditor(plan).Judge(Changed(plan, changes)).Findings.Where(finding => finding.Rule.Id == "ratio-off").ToList();
        Assert.Equal(tooLoud is null ? [] : ["ratio-off:talker>band>fills>room"], found.Select(finding => finding.Id));
        if (tooLoud is { } loud)
            Assert.Equal(loud ? "Who listens there hears too little of band beside talker." : "Who listens there hears too little of talker over band.", found[0].Words.Why);
    }

    [Fact]
    public void What_was_not_seen_on_the_way_leaves_the_ratio_untold_and_a_source_s_own_fader_does_not()
    {
        var plan = Plan(Line);
        var state = Changed(plan, "");
        state.MarkUnseen(plan.Profile.Find("input/1/fader"), UnseenReason.NoReply);
        Assert.True(new Auditor(plan).Judge(state).Ratios[0].Met);
        state.MarkUnseen(plan.Profile.Find("group/1/fader"), UnseenReason.NoReply);
        var result = new Auditor(plan).Judge(state);
        Assert.Equal((null, null), (result.Ratios[0].Live, result.Ratios[0].Met));
        Assert.Contains(result.CannotTell, item => item.Rule == "ratio-off" && item.Missing.Contains("group/1/fader"));
    }

    [Fact]
    public void A_told_send_explains_the_ratio_that_is_off_because_of_it()
    {
        var plan = Plan(Line, "-10 dB within 1 dB");
        var cause = Assert.Single(new Auditor(plan).Judge(Changed(plan, "group/1/send/matrix/1/level = -20 dB")).Causes);
        Assert.Equal(["drift:group/1/send/matrix/1/level"], cause.Told.Select(finding => finding.Id));
        Assert.Equal(["ratio-off:talker>band>fills>room"], cause.Folded.Select(finding => finding.Id));
    }

    [Theory]
    [InlineData(Line, "-10 dB", null)]
    [InlineData(Line, "-20 dB", "the plan's own levels make 2.4 dB of talker over band at 'fills' against 'room', not 6.0 dB within 1.5 dB; what it does not say counts as open, 0 dB and after the fader")]
    [InlineData("{ at: fills, of: talker, over: band, be: 6.5 dB }", "-10 dB", null)] // within 1 dB, where the line does not say
    [InlineData("{ at: fills, of: talker, over: band, be: 7.1 dB }", "-10 dB", "the plan's own levels make 6.0 dB of talker over band at 'fills' against 'room', not 7.1 dB within 1.0 dB; what it does not say counts as open, 0 dB and after the fader")]
    [InlineData("{ at: room, of: talker, over: band, be: -6 dB, against: fills }", "-10 dB", null)] // the other way round
    [InlineData("{ at: fills, of: T1, over: B2, be: 6 dB }", "-10 dB", null)]
    [InlineData("{ at: fills, of: talker, over: guest, be: 6 dB }", "-10 dB", "the plan makes no ratio of talker over guest at 'fills': one of them does not arrive there or at 'room'")]
    public void Plan_whose_levels_do_not_make_its_ratio_is_warned_of(string line, string fill, string? message)
    {
        var items = Written.ReadPlan(Show.Replace("FILL", fill, StringComparison.Ordinal) + $"\nratios: [{line}]", out var plan, desk: DemoShow.Profile);
        Assert.NotNull(plan);
        Assert.Equal(message is null ? [] : [message], items.Where(item => item.Code.Id == "ratio-not-made").Select(item => item.Message));
    }

    [Theory]
    [InlineData(Phase.Doors, "main/1/send/matrix/1/tap = post-fader; main/1/fader = -10 dB", true)]
    [InlineData(Phase.Show, "main/1/send/matrix/1/tap = post-fader; main/1/fader = -10 dB", false)]
    [InlineData(Phase.Show, "group/1/send/matrix/1/level = -20 dB", true)]
    [InlineData(Phase.Soundcheck, "group/1/send/matrix/1/level = -20 dB", true)]
    [InlineData(Phase.Build, "group/1/send/matrix/1/level = -20 dB", false)]
    public void In_the_show_faders_alone_are_printed_and_not_told(Phase phase, string changes, bool told)
    {
        Written.ReadPlan(Show.Replace("FILL", "-10 dB within 1 dB", StringComparison.Ordinal) + $"\nratios: [{Line}]", out var plan, phase, DemoShow.Profile);
        var result = new Auditor(plan!).Judge(Changed(plan!, changes));
        Assert.False(result.Ratios[0].Met);
        Assert.Equal(told, result.Findings.Any(finding => finding.Rule.Id == "ratio-off"));
    }

    [Theory] // A waiver names a ratio by what findings call it.
    [InlineData("ratio-off:talker>band>fills>room", null)]
    [InlineData("ratio-off:talker>band>fills", "unknown-subject")]
    [InlineData("drift:talker>band>fills>room", "unknown-subject")]
    public void Waiver_names_a_ratio_as_findings_do(string finding, string? code) =>
        Assert.Equal(code is null ? [] : [code], Written.ReadPlan(Show.Replace("FILL", "-10 dB", StringComparison.Ordinal) + $"\nratios: [{Line}]\nwaivers: [{{ finding: \"{finding}\", owner: A, why: b, until: 2026-12-31 }}]", out _, desk: DemoShow.Profile)
            .Where(item => item.Code.Level == Core.Documents.DiagnosticLevel.Error).Select(item => item.Code.Id));

    private static ShowPlan Plan(string line, string fill = "-10 dB")
    {
        var items = Written.ReadPlan(Show.Replace("FILL", fill, StringComparison.Ordinal) + $"\nratios: [{line}]", out var plan, desk: DemoShow.Profile);
        Assert.True(plan is not null, string.Join('\n', items.Select(DemoShow.Say)));
        return plan;
    }

    private static DeskState Changed(ShowPlan plan, string changes)
    {
        var state = DemoShow.PlannedDesk(plan);
        foreach (var (path, value) in changes.Length == 0 ? [] : RuleCase.Changes(changes))
            state.Set(path, value);
        return state;
    }
}
