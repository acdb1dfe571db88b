using System.Text;
using System.Text.Json;
using StateWatch.Recordings;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Recordings;

/// <summary>
/// Three recordings that are kept for good: what they tell is what it was, in every build. Each was made by
/// <c>statewatch watch --rehearse NAME.scenario.yaml --record NAME.rec</c> in this folder, and its lines in NAME.told.jsonl were read by a person, against the scenario and the timers
/// of findings:
/// <list type="bullet">
/// <item>desk-away: the low cut goes at 10:01:00 and is told when half a second of gathering is over; the desk is silent from 10:02:00 and told as lost 3 s after its last message
/// (<c>lost-after</c>); it is back at 10:03:00, so what was done in the dark is told first, after the full read, and the desk's own clearing when it has stood for 2 s; both settings are put back at
/// 10:05:00 and cleared when they have been on plan for 2 s. The low cut is not told again after the silence: silence is no all-clear.</item>
/// <item>comes-and-goes: off at :00, :10, :20, :30, each told after half a second and cleared 2 s after it is put back at :05, :15, :25, :35; the fifth time it comes and goes, so one line says that, and nothing
/// more until it has been at rest. All that is one episode.</item>
/// <item>cues: the storm takes 11 s of the 12 s that it has: nothing is told of it. The output that no cue excuses goes at 19:50:05 and is seen by the next round of a desk that sends nothing by itself;
/// it comes back at 19:50:25. The ferry is given at 19:50:35 and its settings have the plan's time and a round, then one line tells of all eighteen; recalled at 19:50:50 they
/// are on plan, so the line is cleared, and a minute later a digest says which they were.</item>
/// </list>
/// </summary>
public sealed class ShippedRecordingTests
{
    public static TheoryData<string> All { get; } = ["desk-away", "comes-and-goes", "cues"];

    [Theory]
    [MemberData(nameof(All))]
    public void Replay_tells_what_was_told_then(string name)
    {
        var (result, fault) = ReplayRun.Of(File.OpenRead(PathOf($"{name}.rec")));
        Assert.Null(fault);
        Assert.Null(result!.Cut);
        // Held is all that was handed over, line by line: what was told and both journals may never be another; what is stored besides may when it is
        // meant to, and then the three are recorded again.
        Assert.True(result.Difference is null, result.Difference);
        Assert.True(result.RestDifference is null, result.RestDifference);
        Assert.Equal(File.ReadAllLines(PathOf($"{name}.told.jsonl")), result.Told.Select(alert => ReplayJson.Line(result, alert)));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Report_is_as_its_schema_says(string name)
    {
        var result = ReplayRun.Of(File.OpenRead(PathOf($"{name}.rec"))).Result!;
        // However it ends.
        (result.RestDifference, result.Cut) = ("at some time", "it was cut off");
        var json = ReplayJson.Write(result);
        var schema = new ReportSchema("replay-1");
        schema.Holds(json, "/", "difference", "cut");
        for (var told = 0; told < result.Told.Count; told++)
            schema.Holds(json, $"/told/{told}", "cue", "by", "why", "text", "members", "digest");
        Assert.False(schema.Allows(json.Replace("\"raised\"", "\"rung\"", StringComparison.Ordinal)));
    }

    [Fact]
    public void Difference_in_what_is_told_is_found_behind_one_in_the_rest()
    {
        // The rest of the first thing that was handed over, and later a word of a line in a journal.
        var changed = RecordingEdit.Of(File.ReadAllBytes(PathOf("comes-and-goes.rec")), static (kind, payload, number) => kind != EntryKind.Taken ? (kind, payload)
            : (kind, number == 0 ? [.. payload[..^1], (byte)'-'] : Edited(payload, "\"recovered\"", "\"forgotten\"")));
        var result = ReplayRun.Of(new MemoryStream(changed)).Result!;
        Assert.Contains("recorded was the rest", result.RestDifference, StringComparison.Ordinal);
        Assert.Contains("forgotten", result.Difference, StringComparison.Ordinal);
        Assert.Equal(result.Difference, result.FirstDifference);
    }

    [Fact]
    public async Task Verb_tells_that_a_recording_is_decided_again_as_it_was()
    {
        using var folder = new ScratchFolder();
        var scenario = folder.Write("one.scenario.yaml", $$"""
            format: statewatch/scenario/1
            say: The desk is away
            plan: {{ShippedFiles.Plan}}
            begins: 2026-12-06 10:01
            ends: "10:03:30"
            phase: show
            happens:
              - { at: "10:02", silent: 1 min }
            told:
              - { finding: "source-unreachable:desk", raised: "10:02", cleared: "10:03" }
            """);
        Assert.Equal((0, ""), await StatewatchProcess.Run("watch", "--rehearse", scenario, "--record", folder.PathOf("one.rec"), "--quiet") is var rehearsed ? (rehearsed.ExitCode, rehearsed.Errors) : default);
        var (exitCode, output, errors) = await StatewatchProcess.Run("history", "replay", folder.PathOf("one.rec"));
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains("  10:02:03  raised          source-unreachable:desk", output, StringComparison.Ordinal);
        Assert.EndsWith("identical to what was recorded\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Verb_tells_the_first_difference_with_exit_1()
    {
        using var folder = new ScratchFolder();
        var changed = RecordingEdit.Of(await File.ReadAllBytesAsync(PathOf("desk-away.rec"), TestContext.Current.CancellationToken), static (kind, payload, _) =>
            (kind, kind == EntryKind.Taken ? Edited(payload, "low-cut#1#1", "low-cut#1#2") : payload));
        await File.WriteAllBytesAsync(folder.PathOf("other.rec"), changed, TestContext.Current.CancellationToken);
        var (exitCode, output, _) = await StatewatchProcess.Run("history", "replay", folder.PathOf("other.rec"), "--format", "json");
        Assert.Equal(1, exitCode);
        using var report = JsonDocument.Parse(output);
        Assert.False(report.RootElement.GetProperty("identical").GetBoolean());
        Assert.Contains("low-cut#1#2", report.RootElement.GetProperty("difference").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Verb_refuses_what_is_missing_or_no_recording()
    {
        using var folder = new ScratchFolder();
        Assert.Equal(66, (await StatewatchProcess.Run("history", "replay", folder.PathOf("none.rec"))).ExitCode);
        var (exitCode, _, errors) = await StatewatchProcess.Run("history", "replay", folder.Write("text.rec", "no recording"));
        Assert.Equal(65, exitCode);
        Assert.Contains("text.rec: its bytes are damaged or no recording", errors, StringComparison.Ordinal);
        Assert.Equal(64, (await StatewatchProcess.Run("history", "replay", PathOf("desk-away.rec"), "--format", "csv")).ExitCode);
    }

    private static byte[] Edited(byte[] payload, string was, string made) => Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(payload).Replace(was, made, StringComparison.Ordinal));

    private static string PathOf(string name) => Path.Combine(AppContext.BaseDirectory, "Recordings", name);
}
