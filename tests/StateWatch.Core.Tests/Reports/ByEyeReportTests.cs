using System.Text.Json;
using System.Xml.Linq;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Reports;

/// <summary>What no desk can tell is a checklist in every report, and changes no verdict.</summary>
public class ByEyeReportTests
{
    private const string Lines = "\nby-eye: [Spare batteries lie ready, { look: Wedge amplifiers are on, where: stage left }]\n";

    private static readonly string[] List = ["Spare batteries lie ready", "Wedge amplifiers are on (stage left)"];

    [Fact]
    public void Verdict_coverage_and_exit_code_stay()
    {
        var (with, without) = (new Midwinter(lines: Lines).Sweep(), Results.Of("clean"));
        Assert.Equal((without.ExitCode, without.Planned, without.Verified, without.Complete), (with.ExitCode, with.Planned, with.Verified, with.Complete));
        Assert.StartsWith("READY: everything is as planned.\n", VolunteerText.Write(with));
    }

    [Fact]
    public void Both_voices_print_the_checklist_even_when_the_desk_is_silent()
    {
        const string Checklist = "\n  [ ] Spare batteries lie ready\n  [ ] Wedge amplifiers are on (stage left)\n";
        foreach (var result in (SweepResult[])[new Midwinter(lines: Lines).Sweep(), new Midwinter(lines: Lines).Silent().Sweep()])
        {
            var text = VolunteerText.Write(result);
            Assert.Contains("\n\nLOOK YOURSELF, NO DESK CAN TELL" + Checklist, text);
            Assert.Contains("Call the engineer. Do not touch gain", text[..text.IndexOf("LOOK YOURSELF", StringComparison.Ordinal)]);
            Assert.Contains("\n\nBy eye, which no desk can tell" + Checklist, EngineerText.Write(result));
        }

        Assert.DoesNotContain("[ ]", EngineerText.Write(Results.Of("clean")) + VolunteerText.Write(Results.Of("clean")));
    }

    [Fact]
    public void Coils_inside_a_hearing_loop_are_to_be_listened_to()
    {
        static string Lines(string from, string to) => string.Join('|', ByEyeList.Of(DemoShow.Compile(DemoShow.PlanText.Replace(from, to, StringComparison.Ordinal), Phase.Doors)));
        Assert.Equal("Hearing loop on: nothing howls or hums in Guitar 1, Guitar 2, Acoustic (coils inside a loop can)", Lines("guitars:  {", "guitars:  { pickup: true,"));
        // A role that nobody has, and a show without a loop, have nothing to listen to.
        Assert.Equal("", Lines("click:    {", "spare: { pickup: true }\n  click:    {"));
        Assert.Equal("", string.Join('|', ByEyeList.Of(DemoShow.Compile(DemoShow.PlanText.Replace("guitars:  {", "guitars:  { pickup: true,", StringComparison.Ordinal)
            .Replace("purpose: hearing-loop", "purpose: overflow", StringComparison.Ordinal), Phase.Doors))));
    }

    [Fact]
    public void Json_lists_the_sentences_and_is_valid_by_the_schema()
    {
        var root = JsonDocument.Parse(SweepJson.Write(new Midwinter(lines: Lines).Sweep())).RootElement;
        Assert.Equal(List, root.GetProperty("coverage").GetProperty("byEye").EnumerateArray().Select(line => line.GetString()));
        Assert.Equal([], SweepJsonTests.Faults(root));
    }

    [Fact]
    public void Junit_skips_one_case_a_line_in_a_suite_of_its_own()
    {
        var text = SweepJunit.Write(new Midwinter(lines: Lines).Sweep());
        Assert.Equal([], JunitSchema.Faults(text));
        var suite = XDocument.Parse(text).Root!.Elements("testsuite").Single(item => item.Attribute("name")!.Value == "by eye");
        Assert.Equal(List, suite.Elements("testcase").Select(item => item.Attribute("name")!.Value));
        Assert.All(suite.Elements("testcase"), item => Assert.NotNull(item.Element("skipped")));
        Assert.DoesNotContain("\"by eye\"", SweepJunit.Write(Results.Of("clean")));
    }

    [Theory]
    [InlineData("settings: { input/1/polarity: { be: on, by-eye: true } }", "Input 1: polarity is on")]
    [InlineData("settings: { input/1/polarity: { be: on, by-eye: yes } }\nfeeds: { room: { bus: main 1, out: stage 1-2 } }\ninputs: { 1: { name: Kick, to: [room] } }", "Kick (input 1): polarity is on")]
    [InlineData("settings: { input/1-8/comp/on: { be: off, by-eye: true } }", "Input 1-8: comp is off")]
    [InlineData("settings: { desk/scene: { be: Doors, by-eye: true } }", "The desk: scene is Doors")]
    [InlineData("phases: { doors: { settings: { desk/scene: { be: Doors, by-eye: true } } }, show: { settings: { desk/scene: { be: Act 1, by-eye: true } } } }", "The desk: scene is Doors")]
    public void Setting_that_the_profile_does_not_map_becomes_a_line(string lines, string line)
    {
        var plan = Written.Plan(lines);
        Assert.Equal([line], ByEyeList.Of(plan));
        Assert.DoesNotContain(plan.Expectations, item => plan.Profile.Settings[item.Setting].Path.Contains("polarity", StringComparison.Ordinal));
    }

    [Fact]
    public void Setting_of_another_phase_is_no_line() =>
        Assert.Empty(ByEyeList.Of(Written.Plan("phases: { show: { settings: { desk/scene: { be: A, by-eye: true } } } }", Phase.Doors)));
}
