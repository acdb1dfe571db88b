using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.Reports;

/// <summary>The fifteen things a volunteer meets most and what goes wrong in routing, each as a script: a real sweep names the cause, in words that a volunteer understands.</summary>
public class ShippedIncidentTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "profiles", "shows", "incidents");

    public static TheoryData<string> Names => [.. Directory.EnumerateFiles(Folder, "*.incidents.yaml").Select(file => Path.GetFileName(file).Replace(".incidents.yaml", "", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    [Fact]
    public void There_is_one_for_each_of_the_fifteen_and_of_what_goes_wrong_in_routing() => Assert.Equal(
        [
            "01-dead-microphone", "02-muted-by-group", "03-room-silent", "04-stream-silent", "05-stream-without-speech", "06-talker-squeals", "07-too-many-open", "08-private-talk-public",
            "09-click-public", "10-condenser-silent", "11-boxes-swapped", "12-boom", "13-hollow-voice", "14-monitors-follow-the-room", "15-music-stuck-low", "16-talkback-by-group", "17-stream-after-the-room-fader", "18-voice-routed-twice", "19-matrix-back-to-an-input",
            "20-effect-into-itself", "21-too-hot-in-the-wedge", "22-groups-into-each-other", "23-cancelled-at-the-loop", "24-squash-without-dry-way", "25-loop-dies-with-a-dca", "26-fills-without-voices",
        ], Names.Select(row => row.Data));

    [Theory]
    [MemberData(nameof(Names))]
    public void Sweep_finds_exactly_what_the_script_expects(string name)
    {
        var (script, result) = Play(name);
        Assert.Equal(script.Incidents.SelectMany(incident => incident.Expect).Order(StringComparer.Ordinal), result.Audit.Findings.Select(finding => finding.Id).Order(StringComparer.Ordinal));
        Assert.True(result.Complete);
        Assert.Contains(result.ExitCode, (int[])[1, 2]);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Page_of_the_volunteer_says_it_in_the_words_of_the_script_and_first(string name)
    {
        var (script, result) = Play(name);
        var page = Unwrapped(VolunteerText.Write(result));
        var words = script.Incidents.SelectMany(incident => incident.Words).ToList();
        Assert.NotEmpty(words);
        Assert.All(words, text => Assert.Contains(text, page));
        Assert.Contains(words[0], page.Split('\n').First(line => line.StartsWith(" 1. ", StringComparison.Ordinal)));
        Assert.StartsWith("NOT READY", page);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Nothing_on_the_page_makes_it_louder_without_the_fader_down(string name)
    {
        var (_, result) = Play(name);
        Assert.DoesNotContain("safe", VolunteerText.Write(result), StringComparison.OrdinalIgnoreCase);
        foreach (var finding in result.Audit.Findings)
            Assert.All((string?[])[finding.Words.Do, finding.Words.Short!.Fix, finding.Words.Short.FixAll], remedy => Assert.True(remedy is null || CautiousWordsTests.IsCautious(remedy), remedy));
    }

    // What moved on a real desk at the moment of the incident is all that may be told: the desk is otherwise as planned.
    [Theory]
    [MemberData(nameof(Names))]
    public void The_same_desk_without_the_incident_gives_nothing(string name) => Assert.Empty(new Midwinter(Read(name, DemoShow.Profile).Phase!.Value).Sweep().Audit.Findings);

    // Where the planned routes of the setting alone do not tell: what is patched, put on a DCA, or runs in a circle.
    [Theory]
    [InlineData("18-voice-routed-twice", "Feeds not ready: room, fills, stream, loop, overflow;")]
    [InlineData("19-matrix-back-to-an-input", "Feeds not ready: room, fills, overflow;")]
    [InlineData("22-groups-into-each-other", "Feeds not ready: room, fills, stream, loop, overflow;")]
    [InlineData("23-cancelled-at-the-loop", "Feeds not ready: loop;")]
    [InlineData("25-loop-dies-with-a-dca", "Feeds not ready: stream, loop;")]
    public void Feeds_in_which_it_is_heard_are_not_called_ready(string name, string line) => Assert.Contains(line, Unwrapped(VolunteerText.Write(Play(name).Result)));

    [Fact]
    public void Silence_that_follows_from_missing_phantom_power_is_folded_under_it()
    {
        var cause = Assert.Single(Play("10-condenser-silent").Result.Audit.Causes);
        Assert.Equal(("phantom-missing:socket/stage-25/phantom", "source-silent:input/25/signal"), (cause.Id, Assert.Single(cause.Folded).Id));
    }

    private static (IncidentScript Script, SweepResult Result) Play(string name)
    {
        var show = new Midwinter(Read(name, DemoShow.Profile).Phase!.Value);
        var script = Read(name, show.Plan.Profile);
        foreach (var incident in script.Incidents)
            show.Desk.Apply(incident);
        return (script, show.Sweep());
    }

    private static IncidentScript Read(string name, DeskProfile profile)
    {
        var diagnostics = new DiagnosticBag();
        var script = IncidentReader.Read(new SourceText(name, File.ReadAllText(Path.Combine(Folder, $"{name}.incidents.yaml"))), profile, diagnostics);
        Assert.Equal([], diagnostics.Items.Select(DemoShow.Say));
        return script!;
    }

    private static string Unwrapped(string page) => page.Replace("\n    ", " ", StringComparison.Ordinal);
}
