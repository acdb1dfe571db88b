using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>What a cue makes of the plan: overlays above the phase, what is open and closed, spares that stand for each other.</summary>
public class CueTests
{
    private const string Base = """
        feeds: { room: { bus: main 1, out: stage 1-2 }, wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4 } }
        groups: { 1: { name: Band, to: [room] } }
        effects: { 1: { name: Hall, send: mix 4, return: input 7, to: [room] }, 2: { name: Plate, send: mix 3, return: input 8, to: [room] } }
        roles: { talker: { to: [room] }, choir: { to: [room], low-cut: on } }
        inputs:
          1: { name: Lectern, role: talker }
          2-3: { name: "Handheld {n}", role: talker, one-of: true }
          4-5: { name: "Choir {side}", role: choir, stereo: false }
          6: { name: Solo, role: choir }
        settings: { input/1/fader: -3 dB, "input/4-6/low-cut": on }
        phases: { show: { guarded: [levels], settings: { input/1/low-cut: on } } }
        cues: { A: CUE, B: { settings: { input/1/low-cut: off } } }
        """;

    [Theory]
    [InlineData("{ open: [Lectern] }", "1", "")]
    [InlineData("{ closed: [choir] }", "", "4 5 6")]
    [InlineData("{ open: [Solo], closed: [choir] }", "6", "4 5")] // a single input over its role
    [InlineData("{ open: [choir], closed: [Choir R] }", "4 6", "5")]
    [InlineData("{ open: [choir], closed: [Choir] }", "6", "4 5")] // a line of two over a role of three
    [InlineData("{ open: [talker] }", "1 2|3", "")] // either of the handhelds
    [InlineData("{ open: [Handheld 2] }", "2|3", "")] // naming one names the set
    [InlineData("{ open: [Handheld], closed: [talker] }", "2|3", "1")]
    [InlineData("{ open: [Handheld 1], closed: [talker] }", "2|3", "1")]
    [InlineData("{ open: [talker], closed: [Handheld 1] }", "1 3", "2")]
    [InlineData("{ open: [talker], closed: [Handheld] }", "1", "2 3")]
    [InlineData("{ closed: [Handheld 1] }", "", "2")]
    [InlineData("{ effects: muted }", "", "7 8")]
    [InlineData("{ effects: muted, open: [Hall] }", "7", "8")]
    [InlineData("{ effects: open, closed: [Plate] }", "7", "8")]
    public void Narrower_name_beats_a_wider_one(string cue, string open, string closed)
    {
        var planned = At(cue).Cue!;
        Assert.Equal(open, string.Join(' ', planned.Open.Select(item => string.Join('|', item.Strips.Select(strip => strip.Strip.Number))).Order(StringComparer.Ordinal)));
        Assert.Equal(closed, string.Join(' ', planned.Closed.Select(item => item.Strip.Strip.Number).Order()));
    }

    [Fact]
    public void Group_is_named_by_its_own_name()
    {
        var planned = At("{ closed: [Band] }").Cue!;
        Assert.Equal("group/1", Assert.Single(planned.Closed).Strip.Strip.Path);
    }

    [Fact]
    public void Settle_is_five_seconds_unless_the_cue_says_otherwise()
    {
        Assert.Equal(TimeSpan.FromSeconds(5), At("{ open: [Lectern] }").Cue!.Settle);
        Assert.Equal(TimeSpan.FromSeconds(12), At("{ open: [Lectern], settle: 12 s }").Cue!.Settle);
        Assert.Equal(TimeSpan.FromMilliseconds(250), At("{ open: [Lectern], settle: 250 ms }").Cue!.Settle);
    }

    [Theory]
    [InlineData("input/1/on", "on", "{ open: [Lectern] }")]
    [InlineData("input/1/on", null, "{ closed: [Lectern] }")]
    [InlineData("input/1/on", null, "{ open: [Solo] }")] // mutes are free in the show
    [InlineData("input/2/on", null, "{ open: [Handheld] }")] // of several that will do none is expected by itself
    [InlineData("input/3/on", "on", "{ open: [talker], closed: [Handheld 1] }")]
    [InlineData("input/4/on", "off", "{ closed: [choir], settings: { input/4/on: off } }")] // the cue's own words stay
    [InlineData("input/4/on", "on", "{ open: [Choir L], settings: { \"input/1-8/on\": off } }")] // a name over a wider path
    [InlineData("input/5/on", "off", "{ open: [Choir L], settings: { \"input/1-8/on\": off } }")]
    [InlineData("input/1/low-cut", "on", "{ open: [Lectern] }")] // the phase
    [InlineData("input/1/low-cut", "off", "{ inputs: { 1: { low-cut: off } } }")] // cue > phase
    [InlineData("input/1/low-cut", "off", "{ settings: { input/1/low-cut: off } }")]
    [InlineData("input/1/low-cut", "off", "{ inputs: { 1-6: { low-cut: off } } }")] // however wide
    [InlineData("input/1/low-cut", "on", "{ inputs: { 1-6: { low-cut: off }, 1: { low-cut: on } } }")] // narrower > wider
    [InlineData("input/1/low-cut", "on", "{ inputs: { 1: { low-cut: off } }, settings: { \"input/1-8/low-cut\": on } }")] // a cue's settings > its inputs
    [InlineData("input/1/fader", "-3.0 dB", "{ open: [Lectern] }")]
    [InlineData("input/1/fader", "-5.0 dB", "{ inputs: { 1: { fader: -5 dB } } }")]
    [InlineData("input/1/send/mix/2/on", "on", "{ inputs: { 1: { to: { wedges 2: -10 dB } } } }")]
    [InlineData("input/1/send/mix/2/level", "-10.0 dB", "{ inputs: { 1: { to: { wedges 2: -10 dB } } } }")]
    [InlineData("input/1/assign/main/1", "off", "{ inputs: { 1: { to: { room: off } } } }")]
    public void Cue_lies_on_the_plan_above_the_phase(string path, string? expected, string cue) => Assert.Equal(expected, At(cue).Allowed(path));

    [Fact]
    public void Each_cue_lies_on_the_plan_alone()
    {
        Assert.Equal("off", At("{ open: [Lectern], inputs: { 1: { fader: -20 dB } } }", cue: "B").Allowed("input/1/low-cut"));
        Assert.Equal("-3.0 dB", At("{ open: [Lectern], inputs: { 1: { fader: -20 dB } } }", cue: "B").Allowed("input/1/fader"));
        Assert.Null(At("{ open: [Lectern] }", cue: null).Cue);
        Assert.Null(At("{ open: [Lectern] }", cue: null).Allowed("input/1/on"));
    }

    [Theory]
    [InlineData("input/1/fader", PhaseLock.Locked)] // said by the cue
    [InlineData("input/1/on", PhaseLock.Locked)]
    [InlineData("input/4/fader", PhaseLock.Guarded)]
    [InlineData("input/4/on", PhaseLock.Free)]
    public void What_a_cue_says_is_locked_whatever_the_phase_makes_of_its_class(string path, PhaseLock expected)
    {
        var plan = At("{ open: [Lectern], inputs: { 1: { fader: -5 dB } } }");
        Assert.Equal(expected, plan.LockOf(plan.Profile.Find(path)));
    }

    [Theory]
    [InlineData("{ open: [Lectern], closed: [Lectern] }", "at cue", "Lectern is closed here but open at 15:21, and neither name is the narrower one")]
    [InlineData("{ open: [choir, Solo], closed: [Solo] }", "", "Solo is closed here but open at 15:28, and neither name is the narrower one")]
    [InlineData("{ closed: [Lectern], settings: { input/1/on: on } }", "at cue 'A': ", "Lectern is closed here, but input/1/on is on at 15:57, and neither line outweighs the other")]
    [InlineData("{ open: [Lectern], settings: { input/1/fader: -inf } }", "at cue 'A': ", "Lectern is open here, but input/1/fader is -inf dB at 15:58, and neither line outweighs the other")]
    public void Contradictions_name_both_places(string cue, string before, string message)
    {
        var error = Assert.Single(Read(cue), item => item.Code.Level == DiagnosticLevel.Error);
        Assert.Equal("conflict", error.Code.Id);
        Assert.Equal(before is "at cue" ? message : before + message, error.Message);
    }

    [Fact]
    public void Role_that_only_a_cue_names_is_told_once()
    {
        var items = Written.ReadPlan(Base.Replace("CUE", "{ closed: [brass] }", StringComparison.Ordinal).Replace("roles: {", "roles: { brass: { to: [room] },", StringComparison.Ordinal), out _);
        var item = Assert.Single(items, one => !one.Code.Id.StartsWith("name-", StringComparison.Ordinal) && one.Code.Id != "redundant-line");
        Assert.Equal(("unused-role", "give it to an input, or remove it here and from cue 'A'"), (item.Code.Id, item.Advice));
    }

    [Theory]
    [InlineData("{ settings: { input/1/fader: -3 dB } }")] // guarded without the cue, locked by it
    [InlineData("{ settings: { input/1/on: on } }")] // free without the cue
    [InlineData("{ open: [talker], closed: [Handheld 1] }", "one-of-both-ways")]
    [InlineData("{ closed: [Lectern], settings: { input/1/low-cut: on } }", "redundant-line")]
    [InlineData("{ settings: { input/1/low-cut: on, input/1/assign/main/1: on } }", "idle-cue")]
    [InlineData("{ open: [Lectern, Lectern] }", "redundant-line")]
    [InlineData("{ open: [choir, Choir, Choir L] }", "redundant-line", "redundant-line")]
    [InlineData("{ open: [choir, Choir L], closed: [Choir] }")] // each name is needed
    public void Audit_tells_what_changes_nothing(string cue, params string[] codes) =>
        Assert.Equal(codes, Read(cue).Where(item => item.At.Place.Line == 15).Select(item => item.Code.Id));

    [Fact]
    public void Unknown_cue_is_refused_by_its_name() =>
        Assert.Contains("no cue 'C'", Assert.Throws<ArgumentException>(() => At("{ open: [Lectern] }", cue: "C")).Message);

    [Fact]
    public void More_cues_than_a_plan_may_have_are_refused() =>
        Assert.Equal("out-of-range", Assert.Single(Written.ReadPlan($"inputs: {{ 1: {{ name: A }} }}\ncues:\n{string.Concat(Enumerable.Range(1, 502).Select(number => $"  c{number}: {{ open: [A] }}\n"))}", out _)).Code.Id);

    private static IReadOnlyList<Diagnostic> Read(string cue) => Written.ReadPlan(Base.Replace("CUE", cue, StringComparison.Ordinal), out _, Phase.Show);

    private static ShowPlan At(string lines, string? cue = "A")
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("x.plan.yaml", $"format: statewatch/show/1\nshow: Test\ndesk: a\n{Base.Replace("CUE", lines, StringComparison.Ordinal)}\n"), diagnostics)!;
        var plan = PlanCompiler.Compile(document, Written.Alder, Phase.Show, diagnostics, cue: cue);
        Assert.Equal([], diagnostics.Items.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
        return plan!;
    }
}
