using System.Text.Json;
using System.Xml.Linq;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>The sweep as a user runs it: a process, real loopback sockets, exit codes.</summary>
[Collection(SocketsGroup.Name)]
public sealed class SweepCommandTests
{
    [Fact]
    public async Task The_demo_prints_every_planted_incident_and_no_false_one_and_exits_2()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", "--demo", "--format", "json");
        using var json = JsonDocument.Parse(output);
        var found = json.RootElement.GetProperty("findings").EnumerateArray().Select(item => item.GetProperty("id").GetString()!).Order(StringComparer.Ordinal);
        Assert.Equal(PlantedIds().Order(StringComparer.Ordinal), found);
        Assert.Equal(2, exitCode);
        Assert.Equal(2, json.RootElement.GetProperty("exitCode").GetInt32());
    }

    [Fact]
    public async Task The_clean_desk_verifies_at_least_1500_settings_of_12_kinds_none_over_40_percent_and_exits_0()
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--simulate", "--format", "json");
        Assert.Equal("", errors);
        Assert.Equal(0, exitCode);
        using var json = JsonDocument.Parse(output);
        Assert.Empty(json.RootElement.GetProperty("findings").EnumerateArray());
        var coverage = json.RootElement.GetProperty("coverage");
        Assert.Equal(coverage.GetProperty("planned").GetInt32(), coverage.GetProperty("verified").GetInt32());
        Assert.True(coverage.GetProperty("verified").GetInt32() >= 1500);

        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("desk", await File.ReadAllTextAsync(ShippedFiles.Desk, TestContext.Current.CancellationToken)), diagnostics)!;
        var document = Core.Plans.PlanReader.Read(new SourceText("plan", await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken)), diagnostics)!;
        var plan = Core.Plans.PlanCompiler.Compile(document, profile, Core.Plans.Phase.Doors, diagnostics)!;
        var kinds = plan.Expectations.GroupBy(item => profile.Settings[item.Setting].Kind.Shape).Select(group => group.Count()).ToList();
        Assert.Equal(plan.Expectations.Count, coverage.GetProperty("verified").GetInt32());
        Assert.True(kinds.Count >= 12);
        Assert.True(kinds.Max() <= 0.4 * plan.Expectations.Count);
    }

    [Theory]
    [InlineData("build")]
    [InlineData("soundcheck")]
    [InlineData("doors")]
    [InlineData("show")]
    public async Task The_clean_desk_is_as_planned_in_every_phase(string phase)
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--simulate", "--phase", phase);
        Assert.Equal((0, ""), (exitCode, errors));
    }

    [Fact]
    public async Task The_clean_desk_is_as_planned_at_a_cue_and_what_differs_there_is_named()
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken)).Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal);
        var plan = folder.Write("cues.plan.yaml", text + "\ncues: { Sermon: { open: [Lectern], closed: [choir, vocal], effects: muted, inputs: { 25: { fader: -5 dB } } } }\n");
        var (exitCode, output, errors) = await StatewatchProcess.Run("sweep", plan, "--simulate", "--cue", "Sermon", "--format", "json");
        Assert.Equal((0, ""), (exitCode, errors));
        using (var json = JsonDocument.Parse(output))
            Assert.Equal(("show", "Sermon"), (json.RootElement.GetProperty("phase").GetString(), json.RootElement.GetProperty("cue").GetString()));
        var incidents = folder.Write("cue.incidents.yaml", "format: statewatch/incidents/1\nincidents:\n  - { say: Somebody pressed the talkers' mute group, set: { mute-group/2/active: on }, expect: [] }\n");
        (exitCode, output, _) = await StatewatchProcess.Run("sweep", plan, "--simulate", "--cue", "Sermon", "--incidents", incidents);
        Assert.Equal(2, exitCode);
        Assert.Contains("Lectern (input 25) is muted by mute group 2 (Talk); it should be open at cue Sermon", output, StringComparison.Ordinal);
        (exitCode, _, errors) = await StatewatchProcess.Run("sweep", plan, "--simulate", "--cue", "sermon");
        Assert.Equal(64, exitCode);
        Assert.Contains("did you mean 'Sermon'?", errors, StringComparison.Ordinal);
        (exitCode, _, errors) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--simulate", "--cue", "Sermon");
        Assert.Equal(64, exitCode);
        Assert.Contains("has no cues", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_demo_as_test_results_fails_for_every_planted_incident_and_exits_2()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", "--demo", "--format", "junit");
        var document = XDocument.Parse(output);
        Assert.Equal(2, exitCode);
        Assert.Equal("testsuites", document.Root!.Name.LocalName);
        Assert.Equal(PlantedIds().Order(StringComparer.Ordinal), document.Descendants("failure").Select(failure => failure.Parent!.Attribute("name")!.Value).Order(StringComparer.Ordinal));
        Assert.Empty(document.Descendants("error"));
        Assert.Contains("SIMULATED", document.Descendants("system-out").First().Value, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_desk_that_is_not_there_is_errors_in_test_results_and_exits_3()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--desk", $"127.0.0.1:{LoopbackDesk.FreePort()}", "--format", "junit");
        var document = XDocument.Parse(output);
        Assert.Equal(3, exitCode);
        Assert.Equal("the desk never answered", document.Descendants("error").First().Attribute("message")!.Value);
        Assert.Empty(document.Descendants("failure"));
    }

    [Theory]
    [InlineData("engineer")]
    [InlineData("volunteer")]
    public async Task Both_voices_name_what_is_urgent(string reader)
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", "--demo", "--for", reader);
        Assert.Equal(2, exitCode);
        foreach (var word in (string[])["oscillator", "Choir 4", "Click", "limiter"])
            Assert.Contains(word, output, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("safe", output, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_desk_that_is_not_there_gives_exit_3_and_says_so()
    {
        var port = LoopbackDesk.FreePort();
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--desk", $"127.0.0.1:{port}");
        Assert.Equal(3, exitCode);
        Assert.Contains($"127.0.0.1:{port}", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_report_goes_to_a_file_and_a_folder_that_is_not_there_gives_73()
    {
        var path = Path.Combine(Path.GetTempPath(), $"statewatch-{Guid.NewGuid():N}.json");
        try
        {
            var (exitCode, output, _) = await StatewatchProcess.Run("sweep", "--demo", "--format", "json", "--out", path);
            Assert.Equal((2, ""), (exitCode, output));
            using var json = JsonDocument.Parse(await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken));
            Assert.Equal("statewatch/sweep/1", json.RootElement.GetProperty("schema").GetString());
        }
        finally
        {
            File.Delete(path);
        }

        var (refused, _, errors) = await StatewatchProcess.Run("sweep", "--demo", "--out", Path.Combine(path, "nowhere", "report.txt"));
        Assert.Equal(73, refused);
        Assert.Contains("cannot write the report", errors, StringComparison.Ordinal);
        Assert.Contains("oscillator", errors, StringComparison.OrdinalIgnoreCase); // the verdict is not lost with the file
    }

    [Theory]
    [InlineData(64, "a verb is missing")]
    [InlineData(64, "needs a plan", "sweep")]
    [InlineData(64, "--swim", "sweep", "--swim")]
    [InlineData(64, "not built yet", "sweep", "--demo", "--format", "html")]
    [InlineData(64, "not a value", "sweep", "--demo", "--format", "yaml")]
    [InlineData(64, "build, soundcheck, doors, show", "sweep", "--demo", "--phase", "lunch")]
    [InlineData(64, "add --simulate", "sweep", "x.plan.yaml", "--incidents", "y.yaml")]
    [InlineData(66, "cannot read this file", "sweep", "nowhere.plan.yaml")]
    [InlineData(66, "cannot read this file", "check", "nowhere.plan.yaml")]
    [InlineData(64, "not host:port", "sweep", "PLAN", "--desk", "somewhere")]
    public async Task Usage_errors_and_missing_files_have_their_own_exit_codes(int expected, string words, params string[] args)
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run([.. args.Select(arg => arg == "PLAN" ? ShippedFiles.Plan : arg)]);
        Assert.Equal(expected, exitCode);
        Assert.Contains(words, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plan_without_sweep_phase_lists_the_phases()
    {
        using var folder = new ScratchFolder();
        var plan = folder.Write("small.plan.yaml", $"format: statewatch/show/1\nshow: Small\ndesk: {ShippedFiles.Desk}\n");
        var (exitCode, _, errors) = await StatewatchProcess.Run("sweep", plan, "--simulate");
        Assert.Equal(64, exitCode);
        Assert.Contains("build, soundcheck, doors, show", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_typing_error_in_a_plan_gives_65_with_place_and_the_nearest_word()
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken)).Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal);
        var broken = text.Replace("role: choir,", "role: chior,", StringComparison.Ordinal);
        Assert.NotEqual(text, broken);
        var line = 1 + broken[..broken.IndexOf("role: chior", StringComparison.Ordinal)].Count(letter => letter == '\n');
        var (exitCode, _, errors) = await StatewatchProcess.Run("sweep", folder.Write("typo.plan.yaml", broken), "--simulate");
        Assert.Equal(65, exitCode);
        Assert.Contains($"typo.plan.yaml:{line}:", errors, StringComparison.Ordinal);
        Assert.Contains("did you mean 'choir'?", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_setting_the_desk_does_not_answer_gives_exit_3_and_is_listed()
    {
        using var folder = new ScratchFolder();
        var script = folder.Write("mute.incidents.yaml", "format: statewatch/incidents/1\nincidents: []\nunanswered: [\"input/25/name\", \"desk/show-file\"]\n");
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--simulate", "--incidents", script);
        Assert.Equal(3, exitCode);
        Assert.Contains("input/25/name", output, StringComparison.Ordinal);
        Assert.Contains("desk/show-file", output, StringComparison.Ordinal);
    }

    private static IEnumerable<string> PlantedIds()
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("desk", File.ReadAllText(ShippedFiles.Desk)), diagnostics)!;
        var script = IncidentReader.Read(new SourceText("incidents", File.ReadAllText(ShippedFiles.Incidents)), profile, diagnostics)!;
        Assert.Equal(14, script.Incidents.Count);
        return script.Incidents.SelectMany(incident => incident.Expect);
    }
}
