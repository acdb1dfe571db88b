using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Margins of a small stage with couplings. Loop gain in dB is the gain of the desk from the socket to the output less the loss of the
/// coupling; levels are worked out by hand beside each test.
/// </summary>
public class MarginTests
{
    // Gain of the desk as planned: 34 dB preamp - 10 dB send = 24 dB, so 10 dB are left of a loss of 34 dB.
    private const string Stage = """
        format: statewatch/show/1
        show: Small stage
        desk: larch-48.desk.yaml
        feeds:
          room: { bus: main 1, out: stage 1-2, fader: 0 dB }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 5-6, tap: pre-fader, fader: 0 dB }
        roles:
          talker: { open-mic: true, to: { wedges 1: -10 dB } }
        inputs:
          25: { name: Lectern, role: talker, from: stage 25, gain: 34 dB, fader: 0 dB }
          26: { name: Guest, role: talker, from: stage 26, gain: 34 dB, fader: 0 dB }
        couplings:
          - { mic: Lectern, feed: wedges 1, loss: 34 dB, measured: 2026-11-22, by: A. Engineer }

        """;

    private static readonly DateOnly Day = new(2026, 11, 25);

    [Fact]
    public void Margin_is_the_loss_less_the_gain_of_the_desk()
    {
        var alone = Alone(Judge(Stage));
        Assert.Equal(10, alone.Margin!.Value, 9);
        Assert.Equal(10, alone.InPhase!.Value, 9);
        Assert.Equal(10, alone.Planned!.Value, 9);
        Assert.Equal(0, alone.Closer!.Value, 9);
        Assert.Equal(("input/25", "wedges 1", "measured", 3.0), (alone.Microphone, alone.Loudspeaker, alone.Source, alone.Spread));
    }

    [Theory]
    [InlineData("input/25/send/mix/1/level", "-6 dB", 6)]
    [InlineData("input/25/send/mix/1/level", "-4 dB", 4)]
    [InlineData("socket/stage-25/gain", "40 dB", 4)]
    [InlineData("mix/1/fader", "5 dB", 5)]
    [InlineData("input/25/fader", "10 dB", 10)] // a pre-fader send does not move with it
    [InlineData("input/25/send/mix/1/level", "-20 dB", 20)]
    public void Every_gain_on_the_way_counts(string setting, string value, double margin)
    {
        Assert.Equal(margin, Alone(Judge(Stage, (setting, value))).Margin!.Value, 9);
    }

    [Fact]
    public void Short_of_margin_and_worse_than_planned_is_told_by_how_much_is_left()
    {
        Assert.DoesNotContain(Judge(Stage, ("input/25/send/mix/1/level", "-6 dB")).Findings, finding => finding.Rule.Id == "feedback-margin");
        Assert.Equal(Severity.Warning, Margin(Judge(Stage, ("input/25/send/mix/1/level", "-5 dB"))).Severity);
        Assert.Equal(Severity.Warning, Margin(Judge(Stage, ("input/25/send/mix/1/level", "-3 dB"))).Severity);
        Assert.Equal(Severity.Urgent, Margin(Judge(Stage, ("input/25/send/mix/1/level", "-2.5 dB"))).Severity);
        var finding = Margin(Judge(Stage, ("input/25/send/mix/1/level", "0 dB")));
        Assert.Equal(("feedback-margin:input/25>mix/1", Severity.Urgent), (finding.Id, finding.Severity));
        Assert.Equal(("input/25/send/mix/1/level", "-10.0 dB", "0.0 dB"), (finding.Setting, finding.Planned, finding.Live));
        Assert.Contains("0 dB ±3 left as it will be when opened, 10 dB ±3 as planned", finding.Words.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_that_is_short_itself_is_no_finding_until_it_gets_worse()
    {
        var plan = Stage.Replace("loss: 34 dB", "loss: 26 dB", StringComparison.Ordinal);
        Assert.Equal(2, Alone(Judge(plan)).Margin!.Value, 9);
        Assert.DoesNotContain(Judge(plan).Findings, finding => finding.Rule.Id == "feedback-margin");
        Assert.Equal(Severity.Urgent, Margin(Judge(plan, ("input/25/send/mix/1/level", "-9 dB"))).Severity);
    }

    [Fact]
    public void Mute_does_not_hide_what_opening_would_do()
    {
        var judged = Judge(Stage, ("input/25/on", "off"), ("input/25/send/mix/1/level", "0 dB"));
        Assert.Equal(0, Alone(judged).Margin!.Value, 9);
        Assert.True(double.IsPositiveInfinity(judged.Margins.Single(margin => margin.Kind == MarginKind.Now).Margin!.Value));
        Assert.Equal("feedback-margin:input/25>mix/1", Margin(judged).Id);
    }

    [Fact]
    public void Best_single_change_is_named_and_worked_out()
    {
        // 6 dB by the send, 2 dB by the bus: the send wins back more.
        var judged = Judge(Stage, ("input/25/send/mix/1/level", "-4 dB"), ("mix/1/fader", "2 dB"));
        Assert.Equal(2, Alone(judged).Margin!.Value, 9);
        Assert.Equal(("input/25/send/mix/1/level", "-10.0 dB"), (Alone(judged).WinBack!.Setting, Alone(judged).WinBack!.To));
        Assert.Equal(6, Alone(judged).WinBack!.By, 9);
    }

    // Davis, and Ballou's handbook: NOM; 10 lg 2 = 3.01 dB, and 20 lg 2 = 6.02 dB when all ways add in phase.
    [Fact]
    public void Two_equal_open_microphones_cost_three_decibels_and_six_in_phase()
    {
        var plan = Stage.Replace("couplings:\n", "couplings:\n  - { mic: Guest, feed: wedges 1, loss: 34 dB, measured: 2026-11-22, by: A. Engineer }\n", StringComparison.Ordinal);
        var now = Judge(plan, ("input/25/on", "on"), ("input/26/on", "on")).Margins.Single(margin => margin.Kind == MarginKind.Now);
        Assert.Equal(10 - 3.0103, now.Margin!.Value, 3);
        Assert.Equal(10 - 6.0206, now.InPhase!.Value, 3);
        var one = Judge(plan, ("input/25/on", "on"), ("input/26/on", "off")).Margins.Single(margin => margin.Kind == MarginKind.Now);
        Assert.Equal(10, one.Margin!.Value, 3);
        Assert.Equal(2, Judge(plan, ("input/25/on", "on"), ("input/26/on", "on")).Margins.Single(margin => margin is { Kind: MarginKind.Open, Loudspeaker: "wedges 1" }).OpenMicrophones!.Value, 9);
    }

    [Fact]
    public void Reference_expires_and_then_makes_no_more_than_a_warning()
    {
        var day = new DateOnly(2026, 11, 22).AddDays(91);
        var judged = Judge(Stage, day, ("input/25/send/mix/1/level", "0 dB"));
        Assert.Equal(Severity.Warning, Margin(judged).Severity);
        Assert.Equal(10, Alone(judged).Spread);
        Assert.Contains("2026-11-22", Alone(judged).Stale, StringComparison.Ordinal);
        Assert.Null(Alone(Judge(Stage, new DateOnly(2026, 11, 22).AddDays(90))).Stale);
    }

    [Fact]
    public void What_hears_nothing_has_no_margin_but_its_rise_is_told()
    {
        var plan = Stage[..Stage.IndexOf("couplings:", StringComparison.Ordinal)];
        var judged = Judge(plan, ("input/25/send/mix/1/level", "-1 dB"));
        Assert.DoesNotContain(judged.Margins, margin => margin.Kind is MarginKind.Now or MarginKind.Microphone);
        Assert.Equal(9, judged.Margins.Single(margin => margin.Kind == MarginKind.Rise).Closer!.Value, 9);
        Assert.Contains(judged.Findings, finding => finding.Id == "mic-too-hot:input/25/send/mix/1/level");
    }

    [Fact]
    public void In_ears_are_no_loudspeakers()
    {
        var plan = Stage.Replace("purpose: monitor", "purpose: in-ears", StringComparison.Ordinal);
        var judged = Judge(plan[..plan.IndexOf("couplings:", StringComparison.Ordinal)], ("input/25/send/mix/1/level", "0 dB"));
        Assert.DoesNotContain(judged.Findings, finding => finding.Rule.Id is "mic-too-hot" or "feedback-margin");
        Assert.DoesNotContain(judged.Margins, margin => margin.Loudspeaker?.StartsWith("wedges", StringComparison.Ordinal) == true);
    }

    // PAG = 20 lg(D1 D0/(Ds D2)) - 10 lg NOM - 6 and NAG = 20 lg(D0/EAD) (Davis; Ballou, Handbook for Sound Engineers): D1 4 m, D0 7 m, Ds 1 m, D2 6 m
    // give 7.38 dB, 4.37 dB with two microphones open (Sound System Design Reference Manual, chapter 4); EAD 3 m needs 7.36 dB.
    [Theory]
    [InlineData("off", 7.38)]
    [InlineData("on", 4.37)]
    public void Potential_gain_counts_the_microphones_that_are_open_now(string second, double potential)
    {
        var plan = Stage.Replace("out: stage 5-6, tap", "out: stage 5-6, loudspeaker: { sensitivity: 98 dB, amplifier: 20 dB, critical-distance: 5 m }, tap", StringComparison.Ordinal)
            .Replace("open-mic: true,", "open-mic: true, microphone: { sensitivity: 2.5 mV },", StringComparison.Ordinal)
            .Replace("loss: 34 dB, measured: 2026-11-22, by: A. Engineer", "distance: 4 m, acoustic-gain: { talker-to-mic: 1 m, talker-to-listener: 7 m, loudspeaker-to-listener: 6 m, as-if-at: 3 m }", StringComparison.Ordinal);
        var alone = Alone(Judge(plan, ("input/26/on", second)));
        Assert.Equal((potential, 7.36), (Math.Round(alone.PotentialGain!.Value, 2), Math.Round(alone.NeededGain!.Value, 2)));
        Assert.Equal(("estimate", 10.0), (alone.Source, alone.Spread));
    }

    // Two ways of opposed polarity to two loudspeakers must not look like silence: magnitudes count.
    [Fact]
    public void Opposed_polarity_never_reads_as_an_endless_margin()
    {
        var judged = Judge(Stage, ("input/25/on", "on"), ("input/25/polarity", "on"));
        Assert.Equal(10, judged.Margins.Single(margin => margin.Kind == MarginKind.Now).Margin!.Value, 9);
    }

    [Fact]
    public void Unseen_gain_on_the_way_is_said_to_be_missing()
    {
        var plan = DemoShow.Compile(Stage, Phase.Doors);
        var state = DemoShow.PlannedDesk(plan);
        state.MarkUnseen(plan.Profile.Find("socket/stage-25/gain"), UnseenReason.NoReply);
        var undecided = Assert.Single(new Auditor(plan).Judge(state, Day).CannotTell, item => item.Rule == "feedback-margin");
        Assert.Equal("input/25>mix/1", undecided.Subject);
        Assert.Equal(["socket/stage-25/gain"], undecided.Missing);
    }

    private static AuditResult Judge(string planText, params (string Setting, string Value)[] changes) => Judge(planText, Day, changes);

    private static AuditResult Judge(string planText, DateOnly day, params (string Setting, string Value)[] changes)
    {
        var plan = DemoShow.Compile(planText, Phase.Doors);
        var state = DemoShow.PlannedDesk(plan);
        foreach (var (setting, value) in changes)
            state.Set(setting, value);
        return new Auditor(plan).Judge(state, day);
    }

    private static LoopMargin Alone(AuditResult result) => result.Margins.First(margin => margin is { Kind: MarginKind.Microphone, Microphone: "input/25" });

    private static Finding Margin(AuditResult result) => Assert.Single(result.Findings, finding => finding.Rule.Id == "feedback-margin");
}
