using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>Bytes are written by hand from OSC 1.0 ("OSC Messages", "Atomic Data Types", "OSC Bundles"), not by our writer.</summary>
public class VirtualDeskTests
{
    private const string AskHum = "2F68756D 00000000 2C000000";

    [Fact]
    public void Switch_on_a_bool_wire_is_a_tag_without_data()
    {
        var desk = SmallDesk.Create();
        Assert.Equal(["2F68756D000000002C460000"], Ask(desk, AskHum));
        desk.Set("desk/oscillator", "on");
        Assert.Equal(["2F68756D000000002C540000"], Ask(desk, AskHum));
    }

    [Fact]
    public void Question_without_a_type_tag_string_is_answered()
    {
        // OSC 1.0: "some older implementations of OSC omit the OSC Type Tag string"
        Assert.Equal(["2F68756D000000002C460000"], Ask(SmallDesk.Create(), "2F68756D 00000000"));
    }

    [Fact]
    public void Level_is_sent_as_the_wire_position_of_its_table()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/1/fader", "-20 dB");
        Assert.Equal(["2F62657274682F30312F6C6576657200" + "2C660000" + "3F000000"], Ask(desk, "2F626572 74682F30 312F6C65 76657200 2C000000"));
    }

    [Fact]
    public void Text_is_filled_up_with_spaces()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/3/name", "Flute");
        Assert.Equal(["2F62657274682F30332F776F72647300" + "2C730000" + "466C75746520202000000000"],
            Ask(desk, "2F626572 74682F30 332F776F 72647300 2C000000"));
    }

    [Fact]
    public void Answer_has_all_arguments_and_zero_for_the_one_nobody_mapped()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/2/send/mix/2/on", "on");
        desk.Set("input/2/send/mix/2/tap", "post-fader");
        Assert.Equal(["2F62657274682F30322F746F776172642F620000" + "2C66696969000000" + "00000000" + "00000000" + "00000001" + "00000001"],
            Ask(desk, "2F626572 74682F30 322F746F 77617264 2F620000 2C000000"));
    }

    [Fact]
    public void Members_are_bits_of_an_int()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/1/dca/2", "on");
        desk.Set("input/3/dca/2", "on");
        Assert.Equal(["2F67616E672F3200" + "2C696900" + "00000000" + "00000005"], Ask(desk, "2F67616E 672F3200 2C000000"));
    }

    [Fact]
    public void Identity_is_answered_as_the_profile_expects_it()
    {
        Assert.Equal(["2F77686F00000000" + "2C737300" + "6665726E00000000" + "332E3000"], Ask(SmallDesk.Create(), "2F77686F 00000000 2C000000"));
    }

    [Fact]
    public void Desk_can_play_another()
    {
        var desk = SmallDesk.Create();
        desk.IdentityAnswer = ["moss"];
        Assert.Equal(["2F77686F00000000" + "2C730000" + "6D6F737300000000"], Ask(desk, "2F77686F 00000000 2C000000"));
    }

    [Fact]
    public void Message_with_fitting_arguments_sets()
    {
        var desk = SmallDesk.Create();
        Assert.Empty(Ask(desk, "2F67616E 672F3100 2C696900 00000007 00000009"));
        Assert.Equal(new VirtualDeskCounters(0, 1, 0, 0, 0), desk.Counters);
        Assert.Equal(["on", "off", "off", "on"], Enumerable.Range(1, 4).Select(i => desk.Get($"input/{i}/dca/1")));
        Assert.Equal(2, desk.Revision - SmallDesk.Create().Revision);
    }

    [Fact]
    public void Text_that_is_too_long_is_cut_when_set()
    {
        var desk = SmallDesk.Create();
        // "Contrabasson": the desk keeps eight bytes
        Assert.Empty(Ask(desk, "2F626572 74682F30 312F776F 72647300 2C730000 436F6E74 72616261 73736F6E 00000000"));
        Assert.Equal("Contraba", desk.Get("input/1/name"));
    }

    [Theory]
    [InlineData("2F68756D 00000000 2C690000 00000007")] // hum takes true or false, not 7
    [InlineData("2F67616E 672F3100 2C690000 00000007")] // too few arguments
    [InlineData("2F67616E 672F3100 2C696969 00000000 00000000 00000001 00000000")] // too many
    [InlineData("2F67616E 672F3100 2C696600 00000000 3F800000")] // bits are no float
    [InlineData("2F67616E 672F3100 2C5B6969 5D000000 00000000 00000001")] // an array
    [InlineData("2F77686F 00000000 2C690000 00000001")] // who takes nothing
    [InlineData("2F68756D 00000000 00000001")] // arguments of unknown types
    [InlineData("2F68756D")] // address never ends
    [InlineData("2F5B6100 2C000000")] // pattern with a class that is not closed
    public void What_does_not_fit_is_counted_and_changes_nothing(string hex)
    {
        var desk = SmallDesk.Create();
        var before = desk.Fingerprint;
        Assert.Empty(Ask(desk, hex));
        Assert.Equal(new VirtualDeskCounters(0, 0, 0, 0, Malformed: 1), desk.Counters);
        Assert.Equal(before, desk.Fingerprint);
    }

    [Theory]
    [InlineData("2F61 0000 2C000000")]
    [InlineData("2F7A 2A00 2C000000")]
    public void Address_the_desk_does_not_have_is_unknown(string hex)
    {
        var desk = SmallDesk.Create();
        Assert.Empty(Ask(desk, hex));
        Assert.Equal(new VirtualDeskCounters(0, 0, 0, Unknown: 1, 0), desk.Counters);
    }

    [Fact]
    public void Questions_that_are_not_answered_are_counted()
    {
        var desk = SmallDesk.Create();
        desk.Unanswered = new HashSet<int> { desk.Profile.Find("desk/oscillator") };
        Assert.Empty(Ask(desk, AskHum));
        Assert.Single(Ask(desk, "2F67616E 672F3200 2C000000"));
        desk.Silent = true;
        Assert.Empty(Ask(desk, "2F67616E 672F3200 2C000000"));
        Assert.Empty(Ask(desk, "2F77686F 00000000 2C000000"));
        Assert.Equal(new VirtualDeskCounters(Answered: 1, 0, Withheld: 3, 0, 0), desk.Counters);
    }

    [Fact]
    public void Asking_everything_changes_nothing()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/3/name", "Flute");
        var (revision, fingerprint) = (desk.Revision, desk.Fingerprint);
        var answers = new AnswerCount();
        foreach (var endpoint in desk.Profile.Endpoints)
            desk.Handle(endpoint.Question, answers);
        Assert.Equal((revision, fingerprint), (desk.Revision, desk.Fingerprint));
        Assert.Equal(new VirtualDeskCounters(desk.Profile.Endpoints.Count, 0, 0, 0, 0), desk.Counters);
        Assert.Equal(desk.Profile.Endpoints.Count, answers.Answers);
    }

    [Fact]
    public void Fingerprint_tells_any_single_change_and_its_undoing()
    {
        var desk = SmallDesk.Create();
        var seen = new HashSet<ulong> { desk.Fingerprint };
        foreach (var (path, value, back) in new[]
        {
            ("input/1/on", "off", "on"), ("input/2/on", "off", "on"), ("input/1/fader", "-20 dB", "-inf dB"), ("input/2/fader", "-20 dB", "-inf dB"),
            ("input/1/name", "Flute", ""), ("input/1/send/mix/1/tap", "post-fader", "pre-fader"), ("input/4/dca/2", "on", "off"),
        })
        {
            var before = desk.Fingerprint;
            desk.Set(path, value);
            Assert.True(seen.Add(desk.Fingerprint), path);
            desk.Set(path, back);
            Assert.Equal(before, desk.Fingerprint);
        }
    }

    [Fact]
    public void Reset_brings_back_what_the_profile_says()
    {
        var desk = SmallDesk.Create();
        var before = desk.Fingerprint;
        desk.Set("input/1/on", "off");
        desk.Set("input/1/name", "Flute");
        desk.Reset();
        Assert.Equal("on", desk.Get("input/1/on"));
        Assert.Equal(before, desk.Fingerprint);
    }

    [Fact]
    public void Value_of_another_kind_is_refused()
    {
        var desk = SmallDesk.Create();
        Assert.Throws<ArgumentException>(() => desk.Set(desk.Profile.Find("input/1/fader"), SettingValue.Switch(true)));
        Assert.Throws<ArgumentException>(() => desk.Set(desk.Profile.Find("input/1/fader"), SettingValue.Level(double.NaN)));
        Assert.Throws<ArgumentException>(() => desk.Set(desk.Profile.Find("input/1/send/mix/1/tap"), SettingValue.Choice(desk.Profile.Texts.Intern("sideways"))));
    }

    [Fact]
    public void Level_between_two_steps_is_kept_as_the_nearest()
    {
        var desk = SmallDesk.Create();
        // From 0.5 to 1 in 200 steps for 30 dB: 0.15 dB a step.
        desk.Set(desk.Profile.Find("input/1/fader"), SettingValue.Level(-19.9));
        Assert.Equal(-19.85, desk[desk.Profile.Find("input/1/fader")].Number, 6);
    }

    [Fact]
    public void Answering_allocates_nothing()
    {
        var desk = SmallDesk.Create();
        desk.Set("input/3/name", "Flute");
        var answers = new AnswerCount();
        byte[][] questions = [.. desk.Profile.Endpoints.Select(endpoint => endpoint.Question), desk.Profile.Identity!.Question];
        AskAll(desk, questions, answers);
        var rounds = 1L;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var i = 0; i < 100; i++)
                AskAll(desk, questions, answers);
            rounds += 100;
        }));
        Assert.Equal(rounds * questions.Length, answers.Answers);
    }

    private static void AskAll(VirtualDesk desk, byte[][] questions, AnswerCount answers)
    {
        foreach (var question in questions)
            desk.Handle(question, answers);
    }

    private static List<string> Ask(VirtualDesk desk, string hex)
    {
        var answers = new AnswerLog();
        desk.Handle(Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal)), answers);
        return answers.Hex;
    }
}
