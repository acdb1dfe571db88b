using System.Text.Json;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>The trace as a user runs it: a process, real loopback sockets, exit codes.</summary>
[Collection(SocketsGroup.Name)]
public sealed class TraceCommandTests
{
    private const string Head = "format: statewatch/incidents/1\n";

    [Theory]
    [InlineData(0, "carried", "Lectern", "room")]
    [InlineData(0, "carried", "Vocal 1", "wedges 2")]
    [InlineData(1, "silent", "Click", "room")]
    public async Task The_plan_alone_answers(int expected, string answer, string from, string to)
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, from, to, "--as-planned", "--format", "json");
        Assert.Equal((expected, ""), (exitCode, errors));
        using var json = JsonDocument.Parse(output);
        Assert.Equal((answer, "plan", expected), (Text(json, "answer"), Text(json, "origin"), json.RootElement.GetProperty("exitCode").GetInt32()));
    }

    [Fact]
    public async Task A_virtual_desk_answers_over_sockets_and_what_was_muted_there_is_named()
    {
        using var folder = new ScratchFolder();
        var (exitCode, output, errors) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--simulate");
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.StartsWith("SIMULATED DESK. CARRIED: Lectern (input 25) arrives at room", output, StringComparison.Ordinal);
        var script = folder.Write("mute.incidents.yaml", Head + "incidents:\n  - { say: Somebody muted the voices, set: { group/1/on: off }, expect: [] }\n");
        (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--simulate", "--incidents", script);
        Assert.Equal(1, exitCode);
        Assert.Contains("Unmute Voices (group 1)", output, StringComparison.Ordinal);
        Assert.Contains("Fader down first", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_setting_that_the_desk_does_not_answer_gives_exit_3_when_a_way_hangs_on_it()
    {
        using var folder = new ScratchFolder();
        var script = folder.Write("mute.incidents.yaml", Head + "incidents: []\nunanswered: [\"group/1/on\"]\n");
        var (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--simulate", "--incidents", script);
        Assert.Equal(3, exitCode);
        Assert.Contains("Not seen: group/1/on", output, StringComparison.Ordinal);
        (exitCode, _, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Vocal 1", "room", "--simulate", "--incidents", script);
        Assert.Equal(0, exitCode);
    }

    [Fact]
    public async Task A_desk_that_is_not_there_gives_exit_3_and_its_address()
    {
        var port = LoopbackDesk.FreePort();
        var (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--desk", $"127.0.0.1:{port}");
        Assert.Equal(3, exitCode);
        Assert.StartsWith("CANNOT TELL", output, StringComparison.Ordinal);
        Assert.Contains($"127.0.0.1:{port}", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_end_alone_gives_a_list()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "--as-planned");
        Assert.Equal(0, exitCode);
        Assert.StartsWith("AS PLANNED. Lectern (input 25) reaches", output, StringComparison.Ordinal);
        (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "--to", "loop", "--as-planned");
        Assert.Equal(0, exitCode);
        Assert.Contains("planned inputs arrive at loop", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_report_goes_to_a_file_and_a_folder_that_is_not_there_gives_73()
    {
        using var folder = new ScratchFolder();
        var path = folder.Write("trace.json", "");
        var (exitCode, output, _) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--as-planned", "--format", "json", "--out", path);
        Assert.Equal((0, ""), (exitCode, output));
        using var json = JsonDocument.Parse(await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken));
        Assert.Equal("statewatch/trace/1", Text(json, "schema"));
        (exitCode, _, var errors) = await StatewatchProcess.Run("trace", ShippedFiles.Plan, "Lectern", "room", "--as-planned", "--out", Path.Combine(path, "nowhere", "t.txt"));
        Assert.Equal(73, exitCode);
        Assert.Contains("CARRIED", errors, StringComparison.Ordinal); // the answer is not lost with the file
    }

    [Theory]
    [InlineData(64, "needs a source", "PLAN")]
    [InlineData(64, "did you mean 'Lectern'?", "PLAN", "Lecturn", "room", "--as-planned")]
    [InlineData(64, "did you mean 'room'?", "PLAN", "Lectern", "rom", "--as-planned")]
    [InlineData(64, "two feeds", "PLAN", "Lectern", "room", "--to", "stream")]
    [InlineData(64, "asks no desk", "PLAN", "Lectern", "room", "--as-planned", "--simulate")]
    [InlineData(64, "add --simulate", "PLAN", "Lectern", "room", "--incidents", "x.yaml")]
    [InlineData(64, "write text or json", "PLAN", "Lectern", "room", "--format", "junit")]
    [InlineData(64, "did you mean '--as-planned'?", "PLAN", "Lectern", "--as-planed")]
    [InlineData(64, "has no cues", "PLAN", "Lectern", "room", "--as-planned", "--cue", "Sermon")]
    [InlineData(64, "not host:port", "PLAN", "Lectern", "room", "--desk", "somewhere")]
    [InlineData(66, "cannot read this file", "nowhere.plan.yaml", "Lectern", "room")]
    public async Task Usage_errors_and_missing_files_have_their_own_exit_codes(int expected, string words, params string[] args)
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run(["trace", .. args.Select(arg => arg == "PLAN" ? ShippedFiles.Plan : arg)]);
        Assert.Contains(words, errors, StringComparison.Ordinal);
        Assert.Equal(expected, exitCode);
    }

    [Fact]
    public async Task A_broken_plan_gives_65()
    {
        using var folder = new ScratchFolder();
        var (exitCode, _, errors) = await StatewatchProcess.Run("trace", folder.Write("broken.plan.yaml", "format: statewatch/show/1\nshwo: Broken\n"), "Lectern", "room", "--as-planned");
        Assert.Equal(65, exitCode);
        Assert.Contains("broken.plan.yaml:2:1", errors, StringComparison.Ordinal);
    }

    private static string? Text(JsonDocument json, string key) => json.RootElement.GetProperty(key).GetString();
}
