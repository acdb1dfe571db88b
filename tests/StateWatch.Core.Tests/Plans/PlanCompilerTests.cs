using StateWatch.Core.Plans;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>What plan lines make of settings.</summary>
public class PlanCompilerTests
{
    private const string Show = """
        dcas: { 1: Band, 2: Choir }
        mute-groups: { 1: Stage }
        feeds:
          room: { bus: main 1, out: stage 1-2 }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4, tap: pre-fader, name: "W {n}" }
        groups: { 1: { name: Voices, to: [room] } }
        """;

    [Theory]
    [InlineData("input/1/dca/1", "on")]
    [InlineData("input/1/dca/2", "off")]
    [InlineData("input/1/mute-group/1", "off")]
    [InlineData("input/1/mute-group/2", "off")]
    [InlineData("input/1/linked", "off")]
    [InlineData("input/1/assign/main/1", "on")]
    [InlineData("input/1/assign/group/1", "off")]
    [InlineData("input/1/send/mix/1/on", "off")]
    [InlineData("input/1/send/mix/4/on", "off")] // a bus no feed owns
    [InlineData("input/1/send/mix/1/tap", "pre-fader")]
    [InlineData("input/1/send/mix/4/tap", null)] // no feed plans a tap there
    [InlineData("input/1/send/mix/1/level", null)] // levels are open
    [InlineData("input/1/source", "stage 5")]
    [InlineData("socket/stage-5/phantom", "off")]
    [InlineData("socket/stage-6/phantom", null)]
    [InlineData("socket/stage-5/gain", null)]
    [InlineData("input/1/fader", null)]
    [InlineData("input/1/on", null)]
    [InlineData("input/1/low-cut", null)]
    [InlineData("input/1/insert/1", null)]
    [InlineData("input/2/source", "none")] // listed without from
    [InlineData("input/2/assign/main/1", "off")]
    [InlineData("input/3/dca/1", null)] // not listed
    [InlineData("input/3/source", null)]
    [InlineData("group/1/assign/main/1", "on")]
    [InlineData("group/1/send/matrix/1/on", "off")]
    [InlineData("group/2/assign/main/1", null)]
    [InlineData("desk/oscillator", "off")]
    public void What_is_not_listed_for_a_listed_strip_is_off_or_none(string path, string? expected) =>
        Assert.Equal(expected, Written.Plan(Show + "\ninputs: { 1: { name: Kick, from: stage 5, dca: Band, to: [room] }, 2: { name: Spare } }").Allowed(path));

    [Theory]
    [InlineData("mix/1/name", "W 1")]
    [InlineData("mix/2/name", "W 2")]
    [InlineData("output/stage-1/source", "main 1 left")]
    [InlineData("output/stage-2/source", "main 1 right")]
    [InlineData("output/stage-4/source", "mix 2")]
    [InlineData("dca/2/name", "Choir")]
    [InlineData("mute-group/1/name", "Stage")]
    [InlineData("group/1/name", "Voices")]
    public void Feeds_groups_and_numbers_have_names_and_outputs(string path, string expected) => Assert.Equal(expected, Written.Plan(Show).Allowed(path));

    [Fact]
    public void Sends_into_a_matrix_feed_come_from_its_list_and_nowhere_else()
    {
        var fills = Written.Plan(Show.Replace("feeds:", "feeds:\n  fills: { bus: matrix 1, purpose: front-fill, from: { room: -10 dB, Voices: off } }", StringComparison.Ordinal));
        Assert.Equal(["on", "off", "off", null], new[] { "main/1/send/matrix/1/on", "group/1/send/matrix/1/on", "group/4/send/matrix/1/on", "group/4/send/matrix/2/on" }.Select(fills.Allowed));
        Assert.Equal("-10.0 dB", fills.Allowed("main/1/send/matrix/1/level"));
        Assert.Null(fills.Allowed("group/1/send/matrix/1/level"));
    }

    [Theory]
    [InlineData("Drum {n}", 3, "Drum 3")]
    [InlineData("Ch{ch}", 3, "Ch6")]
    [InlineData("{n}{n}", 1, "11")]
    public void Names_of_a_range_count(string template, int position, string expected)
    {
        var plan = Written.Plan($"inputs: {{ 4-7: {{ name: \"{template}\" }} }}");
        Assert.Equal(expected, plan.Allowed($"input/{3 + position}/name"));
    }

    [Theory]
    [InlineData("3-4", "A {side}", "A L", "A R", false)]
    [InlineData("3-4", "A {side}", "A L", "A R", true)]
    [InlineData("3-6", "A{n}{side}", "A1L", "A1R", true)] // pairs count as one
    public void Names_of_pairs_have_sides(string numbers, string template, string left, string right, bool stereo)
    {
        var plan = Written.Plan($"inputs: {{ {numbers}: {{ name: \"{template}\", stereo: {(stereo ? "true" : "false")} }} }}");
        Assert.Equal([left, right], new[] { plan.Allowed("input/3/name"), plan.Allowed("input/4/name") });
        Assert.Equal(stereo ? "on" : "off", plan.Allowed("input/3/linked"));
    }

    [Fact]
    public void Sets_of_numbers_keep_their_order_against_sockets()
    {
        var plan = Written.Plan("inputs: { \"7, 1-2\": { name: \"A{n}\", from: \"stage 3, 8, 1\" } }");
        Assert.Equal(["stage 3", "stage 8", "stage 1", "A1", "A2"],
            new[] { "input/7/source", "input/1/source", "input/2/source", "input/7/name", "input/1/name" }.Select(plan.Allowed));
    }

    [Theory]
    [InlineData("-10 dB", "", "-10.0 dB")]
    [InlineData("-10 dB", "levels: 1 dB", "-11.0 dB to -9.0 dB")]
    [InlineData("-10 dB", "fader: 2 dB, levels: 1 dB", "-12.0 dB to -8.0 dB")] // the last word before the class
    [InlineData("-10 dB within 3 dB", "levels: 1 dB", "-13.0 dB to -7.0 dB")]
    [InlineData("-10 dB within 0 dB", "levels: 1 dB", "-10.0 dB")]
    [InlineData("10 dB", "levels: 1 dB", "9.0 dB to 10.0 dB")] // no further than the desk goes
    [InlineData("-inf", "levels: 6 dB", "-inf dB")] // off is off
    public void Tolerance_becomes_steps_of_the_desk(string fader, string tolerance, string expected)
    {
        // From -60 dB to 10 dB in 140 steps of half a decibel.
        var plan = Written.Plan($"tolerance: {{ {tolerance} }}\ninputs: {{ 1: {{ fader: {fader} }} }}");
        Assert.Equal(expected, plan.Allowed("input/1/fader"));
    }

    [Fact]
    public void Tolerance_of_a_class_holds_for_settings_of_its_unit()
    {
        var plan = Written.Plan("tolerance: { levels: 2 dB }\ninputs: { 1: { pan: 10 %, fader: 0 dB } }");
        Assert.Equal(["10.0 %", "-2.0 dB to 2.0 dB"], new[] { "input/1/pan", "input/1/fader" }.Select(plan.Allowed));
        Assert.Equal("8.0 % to 12.0 %", Written.Plan("tolerance: { levels: 2 % }\ninputs: { 1: { pan: 10 % } }").Allowed("input/1/pan"));
        Assert.Equal("8.0 % to 12.0 %", Written.Plan("tolerance: { pan: 2 }\ninputs: { 1: { pan: 10 % } }").Allowed("input/1/pan"));
    }

    [Fact]
    public void Groups_in_a_range_count_their_names()
    {
        var plan = Written.Plan("feeds: { room: { bus: main 1, out: stage 1-2 } }\ngroups: { 2-3: { name: \"G {n}\", to: [room] } }\ninputs: { 1: { to: [G 2] } }");
        Assert.Equal(["G 1", "G 2", "off", "on"], new[] { "group/2/name", "group/3/name", "input/1/assign/group/2", "input/1/assign/group/3" }.Select(plan.Allowed));
        Assert.Equal(["G 1", "G 2"], plan.Strips.Where(strip => strip.Strip.Kind == "group").Select(strip => strip.Name));
    }

    [Fact]
    public void Level_half_a_step_beside_the_plan_is_as_planned_and_two_steps_are_not()
    {
        var plan = Written.Plan("inputs: { 1: { fader: -10.2 dB } }");
        var expectation = plan.For(plan.Profile.Find("input/1/fader"))!;
        var fader = (ScaleCodec)plan.Profile.Settings[expectation.Setting].Codec;
        Assert.Equal("-10.0 dB", plan.Profile.Format(expectation.Planned));
        Assert.True(expectation.Allows(fader.Snap(-10.2)));
        Assert.True(expectation.Allows(fader.Snap(-9.8)));
        Assert.False(expectation.Allows(fader.Snap(-10.5)));
        Assert.False(expectation.Allows(fader.Snap(-9)));
        Assert.False(expectation.Allows(default));
        Assert.False(expectation.Allows(SettingValue.Switch(true)));
    }

    [Theory]
    [InlineData("31 dB", 1)] // the desk's gain has steps of three
    [InlineData("30 dB", 0)]
    [InlineData("31 dB within 2 dB", 0)] // 30 dB is near enough
    public void Value_off_the_grid_is_a_notice(string gain, int notices) =>
        Assert.Equal(notices, Written.ReadPlan($"inputs: {{ 1: {{ from: stage 1, gain: {gain} }} }}", out _).Count(item => item.Code == PlanCodes.OffGrid));

    [Theory]
    [InlineData("1.5 dB", true)]
    [InlineData("2.9 dB", true)]
    [InlineData("3 dB", false)]
    public void Tolerance_under_a_step_is_an_error(string tolerance, bool error) =>
        Assert.Equal(error, Written.ReadPlan($"inputs: {{ 1: {{ from: stage 1, gain: 30 dB within {tolerance} }} }}", out _).Any(item => item.Code == PlanCodes.ToleranceTooSmall));

    [Theory]
    [InlineData(6.2f, true)]
    [InlineData(6.21f, false)]
    [InlineData(62f, false)]
    public void Number_without_steps_is_met_by_its_float_spelling(float live, bool met)
    {
        var plan = Written.Plan("inputs: { 1: { delay: 6.2 ms } }");
        Assert.Equal(met, plan.For(plan.Profile.Find("input/1/delay"))!.Allows(SettingValue.OfNumber(live, Unit.Millisecond)));
    }

    [Fact]
    public void Mutes_are_not_judged_in_the_show_unless_the_phase_says_so()
    {
        const string Text = "inputs: { 1-2: { on: on } }\nphases: { show: { settings: { \"input/2/on\": on } } }";
        Assert.Equal(["on", "on"], new[] { "input/1/on", "input/2/on" }.Select(Written.Plan(Text).Allowed));
        Assert.Equal([null, "on"], new[] { "input/1/on", "input/2/on" }.Select(Written.Plan(Text, Phase.Show).Allowed));
    }

    [Fact]
    public void Listed_talk_circuit_goes_where_its_line_says_and_nowhere_else() =>
        Assert.Equal(["on", "on", "off", "off"], Enumerable.Range(1, 4).Select(mix => Written.Plan(Show + "\ntalk: { 1: { to: [wedges] } }").Allowed($"desk/talk/1/to/mix-{mix}")));

    [Fact]
    public void Insert_is_a_unit_that_is_in()
    {
        var plan = Written.Plan("inputs: { 1: { insert: Squeeze }, 2: { insert: { 2: Hiss } }, 3: { insert: none } }");
        Assert.Equal(["Squeeze", null, "Hiss", "none"], new[] { "input/1/insert/1", "input/1/insert/2", "input/2/insert/2", "input/3/insert/1" }.Select(plan.Allowed));
    }

    [Theory]
    [InlineData("1", new[] { 1 })]
    [InlineData("1-3", new[] { 1, 2, 3 })]
    [InlineData("1-2, 7, 4-5", new[] { 1, 2, 7, 4, 5 })]
    public void Sets_of_numbers_are_read(string text, int[] numbers)
    {
        Assert.True(NumberSet.TryParse(text, out var read));
        Assert.Equal(numbers, read);
    }

    [Theory]
    [InlineData("")]
    [InlineData("0")]
    [InlineData("3-1")]
    [InlineData("1-")]
    [InlineData("-1")]
    [InlineData("1,,2")]
    [InlineData("1, 1")]
    [InlineData("1-3, 2")]
    [InlineData("a")]
    [InlineData("1 2")]
    [InlineData("+1")]
    [InlineData("1-99999")]
    [InlineData("10000")]
    [InlineData("1-4096, 5000-9000")]
    public void Anything_else_is_no_set(string text) => Assert.False(NumberSet.TryParse(text, out _));

    [Theory]
    [InlineData("input/3/low-cut", "input/3/low-cut")]
    [InlineData("input/1-3/gate/on", "input/1/gate/on,input/2/gate/on,input/3/gate/on")]
    [InlineData("output/stage-1-2/eq/in", "output/stage-1/eq/in,output/stage-2/eq/in")]
    [InlineData("input/1-2/send/mix/3-4/on", "input/1/send/mix/3/on,input/1/send/mix/4/on,input/2/send/mix/3/on,input/2/send/mix/4/on")]
    [InlineData("desk/talk/1-2/to/mix-1-2", "desk/talk/1/to/mix-1,desk/talk/1/to/mix-2,desk/talk/2/to/mix-1,desk/talk/2/to/mix-2")]
    public void Paths_with_ranges_are_written_out(string text, string paths) => Assert.Equal(paths.Split(','), PathRanges.Expand(text));

    [Theory]
    [InlineData("")]
    [InlineData("input")]
    [InlineData("input//on")]
    [InlineData("/input/1/on")]
    [InlineData("input/1-9999/send/mix/1-9999/on")]
    public void Anything_else_is_no_path(string text) => Assert.Null(PathRanges.Expand(text));
}
