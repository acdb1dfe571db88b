using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.Simulation;

public class IncidentReaderTests
{
    private const string Head = "format: statewatch/incidents/1\n";

    [Fact]
    public void Script_is_read_whole()
    {
        var script = Read(Head + """
            incidents:
              - say: Somebody moved the flute
                set: { "input/3/fader": -20 dB, "input/3/name": Flute }
                expect: ["drift:input/3/fader", "names-mislead:input/3"]
                words: [Fader down first, "Flute (input 3)"]
                after: 1.5 s
              - say: Nothing that matters
                set: { desk/oscillator: on }
                expect: []
            unanswered: ["input/2/on"]
            phase: show
            """, out _)!;
        Assert.Equal(["Somebody moved the flute", "Nothing that matters"], script.Incidents.Select(incident => incident.Say));
        var (first, second) = (script.Incidents[0], script.Incidents[1]);
        Assert.Equal(["drift:input/3/fader", "names-mislead:input/3"], first.Expect);
        Assert.Empty(second.Expect);
        Assert.Equal(["Fader down first", "Flute (input 3)"], first.Words);
        Assert.Empty(second.Words);
        Assert.Equal(Phase.Show, script.Phase);
        Assert.Equal(TimeSpan.FromMilliseconds(1500), first.After);
        Assert.Equal(TimeSpan.Zero, second.After);
        Assert.Equal(new Place(3, 5), first.At.Place);
        Assert.Equal([SmallDesk.FernProfile.Find("input/2/on")], script.Unanswered);
        var desk = SmallDesk.Create();
        desk.Apply(first);
        Assert.Equal(("-20.0 dB", "Flute"), (desk.Get("input/3/fader"), desk.Get("input/3/name")));
        Assert.Equal("off", desk.Get("desk/oscillator"));
    }

    [Fact]
    public void Shipped_incidents_fit_the_shipped_desk()
    {
        var larch = SmallDesk.Read(RepositoryFiles.Read("profiles/desks/larch-48.desk.yaml").Text);
        var diagnostics = new DiagnosticBag();
        var script = IncidentReader.Read(RepositoryFiles.Read("profiles/shows/midwinter.incidents.yaml"), larch, diagnostics);
        Assert.Equal([], diagnostics.Items.Select(item => $"{item.At} {item.Message}"));
        Assert.NotNull(script);
        foreach (var incident in script.Incidents)
        {
            var desk = new VirtualDesk(larch);
            desk.Apply(incident);
            Assert.All(incident.Set, change => Assert.Equal(change.Value, desk[change.Setting]));
        }
    }

    /// <summary>The sign § stands in front of what must be named as the place.</summary>
    [Theory]
    [InlineData("incident-setting-not-seen", "input/1/fader", "incidents:\n  - say: x\n    set: { §\"input/1/fadr\": -20 dB }\n    expect: []")]
    [InlineData("incident-setting-not-seen", "input/1/on", "incidents: []\nunanswered: [ §input/1/om ]")]
    [InlineData("bad-value", "on", "incidents:\n  - say: x\n    set: { \"input/1/on\":      §om }\n    expect: []")]
    [InlineData("bad-value", "post-fader", "incidents:\n  - say: x\n    set: { \"input/1/send/mix/1/tap\": §po5t-fader }\n    expect: []")]
    [InlineData("bad-value", null, "incidents:\n  - say: x\n    set: { \"input/1/fader\": §40 dB }\n    expect: []")]
    [InlineData("bad-value", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    after: §soon")]
    [InlineData("bad-value", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    after: §-5 s")]
    [InlineData("bad-value", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    after: §25000 min")]
    [InlineData("bad-value", "show", "phase: §shwo\nincidents: []")]
    [InlineData("bad-value", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    words: §\" \"")]
    [InlineData("wrong-shape", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    words: [ §{} ]")]
    [InlineData("bad-value", null, "incidents:\n  - say: §\"\"\n    set: { desk/oscillator: on }\n    expect: []")]
    [InlineData("incident-sets-nothing", null, "incidents:\n  - say: x\n    set: §{}\n    expect: []")]
    [InlineData("missing-key", null, "incidents:\n  - §say: x\n    expect: []")]
    [InlineData("missing-key", null, "incidents:\n  - §say: x\n    set: { desk/oscillator: on }")]
    [InlineData("missing-key", null, "incidents:\n  - §set: { desk/oscillator: on }\n    expect: []")]
    [InlineData("missing-key", null, "§unanswered: []")]
    [InlineData("bad-finding-id", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: [ §oscillator on ]")]
    [InlineData("bad-finding-id", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: [ §\"drift:\" ]")]
    [InlineData("finding-expected-twice", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: [ \"a:b\",    §\"a:b\" ]")]
    [InlineData("unknown-key", "after", "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    §aftr: 5 s")]
    [InlineData("unknown-key", "unanswered", "incidents: []\n§unanswerd: []")]
    [InlineData("wrong-shape", null, "incidents: §none")]
    [InlineData("wrong-shape", null, "incidents:\n  - §x")]
    [InlineData("wrong-shape", null, "incidents:\n  - say: x\n    set: §[ desk/oscillator ]\n    expect: []")]
    [InlineData("wrong-shape", null, "incidents:\n  - say: x\n    set: { desk/oscillator:   §[ on ] }\n    expect: []")]
    [InlineData("duplicate-key", null, "incidents:\n  - say: x\n    set: { desk/oscillator: on,  §desk/oscillator: off }\n    expect: []")]
    public void Fault_is_reported_with_its_place_and_nearest_word(string code, string? suggestion, string marked)
    {
        var lines = (Head + marked).Split('\n');
        var line = Array.FindIndex(lines, text => text.Contains('§', StringComparison.Ordinal));
        var place = new Place(line + 1, lines[line].IndexOf('§', StringComparison.Ordinal) + 1);
        // A mapping without a key that must be there is named by where it begins; for the file itself that is the first line.
        if (marked.StartsWith('§') && code == "missing-key")
            place = new Place(1, 1);
        Assert.Null(Read((Head + marked).Replace("§", "", StringComparison.Ordinal), out var diagnostics));
        var fault = Assert.Single(diagnostics.Items);
        Assert.Equal((code, place, suggestion), (fault.Code.Id, fault.At.Place, fault.Suggestion));
    }

    [Fact]
    public void Putting_the_suggestion_in_place_removes_the_fault()
    {
        const string text = Head + "incidents:\n  - say: x\n    set: { \"input/1/fadr\": -20 dB }\n    expect: []";
        _ = Read(text, out var diagnostics);
        Assert.NotNull(Read(text.Replace("input/1/fadr", diagnostics.Items[0].Suggestion, StringComparison.Ordinal), out _));
    }

    [Fact]
    public void All_faults_are_reported_at_once()
    {
        Assert.Null(Read(Head + """
            incidents:
              - say: x
                set: { nowhere: on, "input/1/on": perhaps }
                expect: [ nothing ]
                when: now
            """, out var diagnostics));
        Assert.Equal(["incident-setting-not-seen", "bad-value", "bad-finding-id", "unknown-key"], diagnostics.Items.Select(item => item.Code.Id));
    }

    [Fact]
    public void Another_kind_of_file_is_told()
    {
        Assert.Null(Read("format: statewatch/show/1\nshow: x", out var diagnostics));
        Assert.Equal("wrong-format", Assert.Single(diagnostics.Items).Code.Id);
    }

    [Theory]
    [InlineData("5 s", 5000)]
    [InlineData("250 ms", 250)]
    [InlineData("1.5 min", 90_000)]
    [InlineData("0s", 0)]
    [InlineData("1440 min", 86_400_000)]
    public void Time_is_read_with_its_unit(string text, double milliseconds)
    {
        var script = Read(Head + "incidents:\n  - say: x\n    set: { desk/oscillator: on }\n    expect: []\n    after: " + text, out _)!;
        Assert.Equal(milliseconds, script.Incidents[0].After.TotalMilliseconds);
    }

    [Fact]
    public void Every_code_of_incidents_has_a_case_above()
    {
        var cases = typeof(IncidentReaderTests).GetMethod(nameof(Fault_is_reported_with_its_place_and_nearest_word))!
            .GetCustomAttributesData().Where(data => data.AttributeType == typeof(InlineDataAttribute))
            .Select(data => ((IReadOnlyList<System.Reflection.CustomAttributeTypedArgument>)data.ConstructorArguments[0].Value!)[0].Value);
        Assert.Empty(IncidentCodes.All.Select(code => code.Id).Except(cases.Cast<string>()));
    }

    private static IncidentScript? Read(string text, out DiagnosticBag diagnostics)
    {
        diagnostics = new DiagnosticBag();
        return IncidentReader.Read(new SourceText("test.incidents.yaml", text), SmallDesk.FernProfile, diagnostics);
    }
}
