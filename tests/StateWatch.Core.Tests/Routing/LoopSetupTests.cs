using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Routing;

/// <summary>What shapes a loop on the weekly show's desk, and its fingerprint.</summary>
public class LoopSetupTests
{
    private static readonly ShippedShow Weekly = ShippedShow.Of("saltmarsh-weekly");

    private static readonly ShowPlan Plan = Weekly.Plan(Phase.Show);

    private const string Lines = """
        input/17/comp/on=off
        input/17/delay=0.0 ms
        input/17/eq/on=off
        input/17/gate/key=none
        input/17/gate/on=off
        input/17/insert/1=none
        input/17/insert/1/in=on
        input/17/insert/2=none
        input/17/insert/2/in=on
        input/17/low-cut=on
        input/17/low-cut/frequency=80.0 Hz
        input/17/polarity=off
        mix/1/comp/on=off
        mix/1/eq/on=off
        mix/1/insert/1=none
        mix/1/insert/1/in=on
        mix/1/insert/2=none
        mix/1/insert/2/in=on
        output/stage-5/delay=0.0 ms
        output/stage-5/eq/in=off
        output/stage-5/limiter/in=on
        """;

    [Theory]
    [InlineData("Lectern", "room", "group/1 input/29 main/1 output/stage-1 output/stage-2")]
    [InlineData("Lectern", "fills", "group/1 input/29 main/1 matrix/1 output/local-5 output/stage-4")] // by the room and by the group
    [InlineData("Singer 1", "wedges 1", "input/17 mix/1 output/stage-5")]
    [InlineData("Lectern", "wedges 3", "input/29 mix/3 output/stage-7")] // no way by plan: only what any way would have to pass
    public void Setup_is_that_of_strips_on_the_planned_way(string microphone, string loudspeaker, string strips)
    {
        var settings = Setup(microphone, loudspeaker).Settings.Select(id => Plan.Profile.Settings[id]).ToList();
        Assert.Equal(strips, string.Join(' ', settings.Select(setting => Plan.Profile.Strips[setting.Strip].Path).Distinct().Order(StringComparer.Ordinal)));
        Assert.All(settings, setting => Assert.True(setting.Kind.Class is SettingClass.Processing or SettingClass.Inserts, setting.Path));
        Assert.Equal(settings.Select(setting => setting.Path).Order(StringComparer.Ordinal), settings.Select(setting => setting.Path));
    }

    [Fact]
    public void Setup_has_everything_that_the_profile_tells_of_the_microphones_strip() => Assert.Equal(
        "comp/on delay eq/on gate/key gate/on insert/1 insert/1/in insert/2 insert/2/in low-cut low-cut/frequency polarity",
        string.Join(' ', Setup("Lectern", "room").Settings.Select(id => Plan.Profile.Settings[id].Path).Where(path => path.StartsWith("input/29/", StringComparison.Ordinal)).Select(path => path["input/29/".Length..])));

    [Fact] // The digits are those of coreutils' sha256sum over the same lines: printf 'input/17/comp/on=off\n…' | sha256sum.
    public void Fingerprint_is_the_beginning_of_sha_256_over_path_and_value()
    {
        var state = Weekly.CleanDesk();
        var setup = Setup("Singer 1", "wedges 1");
        Assert.Equal(Lines.Split('\n'), setup.Settings.Select(id => $"{Plan.Profile.Settings[id].Path}={Plan.Profile.Format(state[id])}"));
        Assert.Equal("0955a205", setup.Fingerprint(state));
    }

    [Fact]
    public void Every_single_change_alters_the_fingerprint_and_nothing_else_does()
    {
        var state = Weekly.CleanDesk();
        var setup = Setup("Lectern", "fills");
        var clean = setup.Fingerprint(state);
        Assert.NotNull(clean);
        var seen = new HashSet<string> { clean };
        foreach (var setting in Plan.Profile.Settings)
        {
            var value = state[setting.Id];
            state.Apply(setting.Id, Other(setting, value));
            var print = setup.Fingerprint(state)!;
            Assert.True(setup.Settings.Contains(setting.Id) ? seen.Add(print) : print == clean, setting.Path);
            state.Apply(setting.Id, value);
        }

        Assert.Equal(setup.Settings.Count + 1, seen.Count);
        Assert.Equal(clean, setup.Fingerprint(state));
    }

    [Fact]
    public void Fingerprint_stays_through_faders_mutes_sends_and_another_read()
    {
        var state = Weekly.CleanDesk();
        var setup = Setup("Lectern", "room");
        var clean = setup.Fingerprint(state);
        state.Set("input/29/fader", "-20 dB");
        state.Set("input/29/on", "off");
        state.Set("socket/stage-29/gain", "40 dB");
        Assert.Equal(clean, setup.Fingerprint(state));
        Assert.Equal(clean, Setup("Lectern", "room").Fingerprint(Weekly.CleanDesk()));
    }

    [Fact]
    public void Fingerprint_does_not_hang_on_the_order_of_a_profiles_lines()
    {
        var cut = Written.Desk.IndexOf("settings:\n", StringComparison.Ordinal) + "settings:\n".Length;
        var turned = Written.Profile(Written.Desk[..cut] + string.Join('\n', Written.Desk[cut..].Split('\n').Reverse()));
        string? Print(DeskProfile desk)
        {
            var diagnostics = Written.ReadPlan("feeds: { room: { bus: main 1, out: stage 1-2 } }\nroles: { voice: { open-mic: true, to: [room] } }\ninputs: { 1: { role: voice, insert: Hiss } }", out var plan, desk: desk);
            Assert.DoesNotContain(diagnostics, item => item.Code.Level == DiagnosticLevel.Error);
            return LoopSetup.Of(plan!, plan!.Microphones.Single(), plan.Loudspeakers.Single()).Fingerprint(DemoShow.PlannedDesk(plan));
        }

        Assert.NotEqual(Written.Alder.Find("input/1/delay"), turned.Find("input/1/delay"));
        Assert.NotNull(Print(Written.Alder));
        Assert.Equal(Print(Written.Alder), Print(turned));
    }

    [Fact]
    public void Setup_written_in_the_weekly_plan_is_that_of_the_desk_as_planned()
    {
        var written = Plan.Couplings.Where(coupling => coupling.Setup is not null).ToList();
        Assert.NotEmpty(written);
        Assert.All(written, coupling => Assert.Equal(coupling.Setup, LoopSetup.Of(Plan, coupling.Microphone, Plan.Loudspeakers[coupling.Loudspeaker]).Fingerprint(Weekly.CleanDesk())));
    }

    [Fact]
    public void Nothing_is_said_of_what_was_not_seen()
    {
        var state = Weekly.CleanDesk();
        var setup = Setup("Lectern", "room");
        foreach (var id in setup.Settings)
        {
            var value = state[id];
            state.MarkUnseen(id, UnseenReason.NoReply);
            Assert.Null(setup.Fingerprint(state));
            state.Apply(id, value);
        }

        state.StartGeneration();
        Assert.Null(setup.Fingerprint(state));
    }

    private static LoopSetup Setup(string microphone, string loudspeaker) =>
        LoopSetup.Of(Plan, Plan.Microphones.Single(strip => strip.Name == microphone), Plan.Loudspeakers.Single(item => item.Words == loudspeaker));

    // Another value that the desk can have.
    private static SettingValue Other(Setting setting, SettingValue value) => value.Kind switch
    {
        ValueKind.Switch => SettingValue.Switch(!value.IsOn),
        ValueKind.Level => SettingValue.Level(value.Number is > -90 and < 90 ? value.Number - 1 : -7),
        ValueKind.Number => SettingValue.OfNumber(value.Number + 1, value.Unit),
        ValueKind.Choice => SettingValue.Choice(Plan.Profile.Texts.Intern("another")),
        ValueKind.Point => SettingValue.Point(Plan.Profile.Texts.Intern("another")),
        _ => SettingValue.Text(Plan.Profile.Texts.Intern("another")),
    };
}
