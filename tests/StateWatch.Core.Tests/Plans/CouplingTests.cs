using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Which microphones and loudspeakers there are, and which line counts for each pair.</summary>
public class CouplingTests
{
    private const string Stage = """
        feeds:
          room:   { bus: main 1, out: stage 1-2, loudspeaker: { sensitivity: 98 dB, amplifier: 32 dB, critical-distance: 5 m } }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4, loudspeaker: { sensitivity: 95 dB, amplifier: 30 dB, critical-distance: 2 m } }
          ears:   { bus: mix 3-4, purpose: in-ears, stereo: true }
          subs:   { bus: matrix 1, loudspeaker: { sensitivity: 98 dB, amplifier: 32 dB, critical-distance: 5 m } }
        roles:
          talker: { open-mic: true, microphone: { sensitivity: 2.5 mV, pattern: cardioid }, to: [room] }
          line: { to: [room] }
        inputs:
          1: { name: Lectern, role: talker, microphone: { sensitivity: 20 mV } }
          2-3: { name: "Handheld {n}", role: talker }
          4: { name: Keys, role: line }
          5: { name: Spot, role: line }
        couplings:

        """;

    private const string By = "measured: 2026-11-22, by: A. Engineer";

    [Fact]
    public void Loudspeakers_are_feeds_that_microphones_hear_bus_by_bus_where_they_have_several()
    {
        var plan = Plan();
        Assert.Equal(["room 0", "wedges 1 1", "wedges 2 2", "subs 0"], plan.Loudspeakers.Select(item => $"{item.Words} {item.Position}"));
        Assert.Equal(["room", "wedges", "wedges", "subs"], plan.Loudspeakers.Select(item => plan.Feeds[item.Feed].Key));
    }

    [Fact]
    public void Stereo_feed_is_one_loudspeaker() =>
        Assert.Equal(["fills"], Written.Plan("feeds: { fills: { bus: mix 1-2, purpose: front-fill, stereo: true, out: stage 1-2 } }").Loudspeakers.Select(item => item.Words));

    [Fact]
    public void Microphones_are_open_ones_and_those_that_a_coupling_names()
    {
        Assert.Equal(["Lectern", "Handheld 1", "Handheld 2"], Plan().Microphones.Select(item => item.Name));
        Assert.Equal(["Lectern", "Handheld 1", "Handheld 2", "Spot"], Plan($"{{ mic: Spot, feed: room, loss: 30, {By} }}").Microphones.Select(item => item.Name));
    }

    [Theory]
    [InlineData("Lectern", "room", "Lectern>room")]
    [InlineData("Handheld", "room", "Handheld 1>room, Handheld 2>room")]
    [InlineData("talker", "wedges 2", "Lectern>wedges 2, Handheld 1>wedges 2, Handheld 2>wedges 2")]
    [InlineData("Spot", "wedges", "Spot>wedges 1, Spot>wedges 2")]
    [InlineData("Spot", "wedges 1-2", "Spot>wedges 1, Spot>wedges 2")]
    [InlineData("Spot", "subs 1", "Spot>subs")]
    public void One_line_may_stand_for_several_pairs(string mic, string feed, string pairs) =>
        Assert.Equal(pairs, string.Join(", ", Plan($"{{ mic: {mic}, feed: {feed}, loss: 30 dB, {By} }}").Pairs()));

    [Theory]
    [InlineData("talker room 30, Lectern room 20", "Lectern>room 20, Handheld 1>room 30, Handheld 2>room 30")]
    [InlineData("Lectern room 20, talker room 30", "Lectern>room 20, Handheld 1>room 30, Handheld 2>room 30")]
    [InlineData("talker room 30, Handheld room 25, Handheld 2 room 20", "Lectern>room 30, Handheld 1>room 25, Handheld 2>room 20")]
    [InlineData("Spot wedges 30, Spot wedges/2 20", "Spot>wedges 1 30, Spot>wedges 2 20")]
    [InlineData("talker wedges/1 30, Lectern wedges 20", "Lectern>wedges 1 20, Lectern>wedges 2 20, Handheld 1>wedges 1 30, Handheld 2>wedges 1 30")] // the microphone's name is looked at first
    public void Narrower_name_outweighs_a_wider_one(string lines, string expected)
    {
        var written = lines.Split(", ").Select(line => line.Split(' ')).Select(words => $"{{ mic: {string.Join(' ', words[..^2])}, feed: {words[^2].Replace('/', ' ')}, loss: {words[^1]}, {By} }}");
        Assert.Equal(expected, string.Join(", ", Plan([.. written]).Couplings.Select((coupling, i) => $"{Plan([.. written]).Pairs()[i]} {coupling.Loss}")));
    }

    [Fact]
    public void Measured_line_is_kept_as_written()
    {
        var coupling = Assert.Single(Plan($"{{ mic: Lectern, feed: wedges 2, loss: -1.5 dB, {By}, room: full, setup: 7f3a91c2 }}").Couplings);
        Assert.Equal((-1.5, true, new DateOnly(2026, 11, 22), "A. Engineer", "7f3a91c2", "full", 2), (coupling.Loss, coupling.IsMeasured, coupling.Measured, coupling.By, coupling.Setup, coupling.Room, coupling.Loudspeaker));
        Assert.Null(coupling.Geometry);
        Assert.Null(coupling.Estimate);
        Assert.Equal(new Place(4 + Stage.Count(character => character == '\n'), 3), coupling.At.Place);
    }

    // As worked by hand in CouplingEstimateTests; an input's own microphone of 20 mV is 18.06 dB more sensitive than 2.5 mV and an omni.
    [Theory]
    [InlineData("Handheld 1", "room", "6 m", "120", 29.06)]
    [InlineData("Handheld 1", "room", "200 cm", "180", 27.10)]
    [InlineData("Handheld 1", "room", "2", "60 deg", 23.60)]
    [InlineData("Lectern", "room", "2 m", "180", 25.08 + 6.02 - 10 - 18.06)]
    [InlineData("Handheld 1", "subs", "2 m", "180", 25.08 + 6.02 - 10)] // no direction helps at low frequencies
    public void Estimate_follows_from_distance_and_data(string mic, string feed, string distance, string angle, double loss)
    {
        var coupling = Assert.Single(Plan($"{{ mic: {mic}, feed: {feed}, distance: {distance}, angle: {angle} }}").Couplings);
        Assert.Equal(loss, coupling.Loss, 0.01);
        Assert.False(coupling.IsMeasured);
        Assert.False(coupling.IsStaleOn(new DateOnly(2099, 1, 1)));
        Assert.Null(coupling.Geometry!.PotentialGain(1));
        Assert.Null(coupling.Geometry.NeededGain);
    }

    // D. and C. Davis as in AcousticGainTests: Ds 0.5, D0 16, D1 8, D2 12, NOM 3 is 15.81 dB; D0 7 with EAD 3 is 7.36 dB, here 16 with 6.857.
    [Fact]
    public void Acoustic_gain_follows_from_four_distances()
    {
        var geometry = Assert.Single(Plan("{ mic: Lectern, feed: room, distance: 8 m, acoustic-gain: { talker-to-mic: 50 cm, talker-to-listener: 16 m, loudspeaker-to-listener: 12 m, as-if-at: 6.857 m } }").Couplings).Geometry!;
        Assert.Equal(15.81, geometry.PotentialGain(3)!.Value, 0.01);
        Assert.Equal(7.36, geometry.NeededGain!.Value, 0.01);
    }

    // Sound System Design Reference Manual, chapter 4: Ds 1, D0 7, D1 4, D2 6 give 7.4 dB. EAD 3 needs as much and is just workable; EAD 1.5 needs 13.4 dB,
    // which half of Ds or a microphone 6 dB down towards the loudspeaker is the remedy for.
    [Theory]
    [InlineData("1 m", 3, 0, false)]
    [InlineData("1 m", 1.5, 0, true)]
    [InlineData("0.5 m", 1.5, 0, false)]
    [InlineData("1 m", 1.5, 90, false)]
    public void Distances_by_which_feedback_comes_first_are_told(string talker, double near, int angle, bool told)
    {
        var items = Written.ReadPlan(Stage + FormattableString.Invariant(
            $"- {{ mic: Handheld 1, feed: room, distance: 4 m, angle: {angle}, acoustic-gain: {{ talker-to-mic: {talker}, talker-to-listener: 7 m, loudspeaker-to-listener: 6 m, as-if-at: {near} m }} }}"), out var plan);
        Assert.NotNull(plan);
        Assert.Equal(told, items.Any(item => item.Code.Id == "too-little-gain"));
    }

    [Fact]
    public void Measured_reference_outweighs_an_estimate_however_wide_and_keeps_it()
    {
        var couplings = Plan($"{{ mic: talker, feed: room, loss: 40, {By} }}", "{ mic: Handheld 1, feed: room, distance: 6 m, angle: 120 }").Couplings;
        Assert.All(couplings, coupling => Assert.True(coupling.IsMeasured));
        Assert.Equal([null, 29.06, null], couplings.Select(coupling => coupling.Estimate is { } estimate ? Math.Round(estimate.Loss, 2) : (double?)null));
    }

    [Theory]
    [InlineData("2026-11-22", false)]
    [InlineData("2027-02-20", false)] // the ninetieth day after
    [InlineData("2027-02-21", true)]
    [InlineData("2026-11-21", true)] // measured tomorrow: plan or clock is wrong
    public void Measured_reference_counts_for_ninety_days(string day, bool stale)
    {
        var plan = Plan($"{{ mic: Lectern, feed: room, loss: 40, {By} }}");
        var today = DateOnly.Parse(day, provider: null);
        Assert.Equal(stale, Assert.Single(plan.Couplings).IsStaleOn(today));
        var diagnostics = new DiagnosticBag();
        CouplingCheck.Dates(plan.Document.Couplings, today, diagnostics);
        Assert.Equal(stale ? [day.StartsWith("2027", StringComparison.Ordinal) ? "expired-coupling" : "measured-later"] : [], diagnostics.Items.Select(item => item.Code.Id));
    }

    [Fact]
    public void Coupling_changes_no_expectation()
    {
        var (with, without) = (Plan($"{{ mic: Lectern, feed: room, loss: 40, {By} }}"), Plan());
        Assert.Equal(without.Expectations.Select(item => (item.Setting, item.Planned, item.Rank)), with.Expectations.Select(item => (item.Setting, item.Planned, item.Rank)));
    }

    [Fact]
    public void Twice_for_one_pair_is_told_once_and_names_both_lines()
    {
        var items = Written.ReadPlan(Stage + $"- {{ mic: talker, feed: wedges, loss: 30, {By} }}\n- {{ mic: talker, feed: wedges 1-2, loss: 31, {By} }}", out _);
        var line = 4 + Stage.Count(character => character == '\n');
        Assert.Equal([$"coupling-twice {line + 1}:3 'talker' at 'wedges 1-2' is also told at {line}:3 ('talker' at 'wedges'), and neither is narrower"], items.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
    }

    private static ShowPlan Plan(params string[] couplings) => Written.Plan(Stage + string.Join('\n', couplings.Select(line => $"- {line}").DefaultIfEmpty("  []")));
}

/// <summary>Couplings as short texts.</summary>
file static class CouplingTexts
{
    public static IReadOnlyList<string> Pairs(this ShowPlan plan) => [.. plan.Couplings.Select(coupling => $"{coupling.Microphone.Name}>{plan.Loudspeakers[coupling.Loudspeaker].Words}")];
}
