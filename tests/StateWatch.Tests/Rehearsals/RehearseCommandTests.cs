using StateWatch.Tests.Support;

namespace StateWatch.Tests.Rehearsals;

/// <summary>Rehearsals as a user runs them. All shipped scenarios are rehearsed in full by CI.</summary>
public sealed class RehearseCommandTests : IDisposable
{
    private const string Sleeve = "{ at: \"10:02\", set: { input/25/low-cut: off } }, { at: \"10:04\", put-back: input/25/low-cut }";
    private readonly ScratchFolder _folder = new();

    [Fact]
    public async Task What_has_to_be_told_is_told_and_the_same_scenario_gives_the_same_day()
    {
        var scenario = Write(Sleeve, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", cleared: \"10:04\" }");
        var (exitCode, output, errors) = await StatewatchProcess.Run("watch", "--rehearse", scenario);
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains("10:02:00  raised          low-cut-off:input/25/low-cut", output, StringComparison.Ordinal);
        Assert.Contains("as it had to be", output, StringComparison.Ordinal);
        Assert.Equal(output, (await StatewatchProcess.Run("watch", "--rehearse", scenario)).Output);
    }

    [Fact]
    public async Task What_is_not_told_in_time_is_missing()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("watch", "--rehearse", Write(Sleeve,
            "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", cleared: \"10:04\" }, { finding: \"click-public:input/39/assign/main/1\", raised: \"10:03\" }"));
        Assert.Equal(1, exitCode);
        Assert.Contains("click-public:input/39/assign/main/1 was not told between 10:03:00 and 10:03:10", output, StringComparison.Ordinal);
        Assert.EndsWith("NOT as it had to be\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_nobody_asked_for_is_too_many()
    {
        var (exitCode, output, _) = await StatewatchProcess.Run("watch", "--rehearse", Write(Sleeve, ""));
        Assert.Equal(1, exitCode);
        Assert.Contains("too many: from 10:02:00", output, StringComparison.Ordinal);
        var (allowed, _, _) = await StatewatchProcess.Run("watch", "--rehearse", Write(Sleeve, "", "others: { at-most: 2, within: 30 min }"));
        Assert.Equal(0, allowed);
    }

    [Fact]
    public async Task What_is_put_aside_or_known_is_not_cleared()
    {
        const string Aside = "{ at: \"10:02\", set: { input/25/low-cut: off } }, { at: \"10:04\", say: We know, put-aside: \"low-cut-off:input/25/low-cut\" }";
        var (exitCode, output, _) = await StatewatchProcess.Run("watch", "--rehearse", Write(Aside, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", cleared: \"10:04\" }"));
        Assert.Equal(1, exitCode);
        Assert.Contains("low-cut-off:input/25/low-cut was not cleared between 10:04:00 and 10:04:10", output, StringComparison.Ordinal);
        Assert.Equal(0, (await StatewatchProcess.Run("watch", "--rehearse", Write(Aside, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", put-aside: \"10:04\" }"))).ExitCode);
        Assert.Contains("was not told as known between 10:04:00", (await StatewatchProcess.Run("watch", "--rehearse", Write(Aside, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", known: \"10:04\" }"))).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_somebody_knows_of_is_not_told_anew()
    {
        const string Known = "{ at: \"10:02\", set: { input/25/low-cut: off } }, { at: \"10:04\", acknowledge: \"low-cut-off:input/25/low-cut\" }";
        var (exitCode, output, _) = await StatewatchProcess.Run("watch", "--rehearse", Write(Known, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\" }, { finding: \"low-cut-off:input/25/low-cut\", raised: \"10:04\" }"));
        Assert.Equal(1, exitCode);
        Assert.Contains("low-cut-off:input/25/low-cut was not told between 10:04:00 and 10:04:10", output, StringComparison.Ordinal);
        Assert.Equal(0, (await StatewatchProcess.Run("watch", "--rehearse", Write(Known, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", known: \"10:04\" }"))).ExitCode);
    }

    // Clocks in Lisbon, where the show is: back from 2:00 to 1:00 on 25 October 2026, on from 1:00 to 2:00 on 29 March (IANA time zone database, rules of the EU).
    [Theory]
    [InlineData("2026-10-25 01:58", "2:05", "2:02")]
    [InlineData("2026-10-25 01:28", "1:34", "1:30")]
    [InlineData("2026-03-29 00:58", "2:05", "2:02")]
    public async Task What_happens_at_a_time_happens_then_though_clocks_were_changed(string begins, string ends, string silent)
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run("watch", "--rehearse", _folder.Write("x.scenario.yaml",
            $"format: statewatch/scenario/1\nsay: A night\nplan: {ShippedFiles.Plan}\nbegins: {begins}\nends: \"{ends}\"\nphase: doors\n"
            + $"happens: [{{ at: \"{silent}\", silent: 1 min }}]\ntold: [{{ finding: \"source-unreachable:desk\", raised: \"{silent}\", cleared: \"{silent}:55\", within: 20 s }}]\n"));
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains($"0{silent}:03  raised ", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Recording_that_cannot_be_written_is_told_as_that_and_nothing_is_judged()
    {
        Assert.SkipUnless(File.Exists("/dev/full"), "/dev/full is not there: a disk that takes nothing (Linux)");
        var (exitCode, output, errors) = await StatewatchProcess.Run("watch", "--rehearse", Write(Sleeve, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:02\", cleared: \"10:04\" }"), "--record", "/dev/full");
        Assert.Equal((73, ""), (exitCode, output));
        Assert.StartsWith("statewatch: /dev/full: cannot write the recording: ", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Time_after_the_end_is_a_fault_and_no_pass()
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run("watch", "--rehearse", Write(Sleeve, "{ finding: \"low-cut-off:input/25/low-cut\", raised: \"10:30\" }"));
        Assert.Equal(65, exitCode);
        Assert.Contains("10:30 is after the end of the scenario", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{ at: \"10:02\", set: { input/25/lowcut: off } }", "did you mean 'input/25/low-cut'?")]
    [InlineData("{ at: \"25:02\", silent: 5 s }", "write it like \"10:42:30\"")]
    [InlineData("{ at: \"10:02\", cue: Sermon }", "has no cue 'Sermon'")]
    [InlineData("{ at: \"10:02\", silend: 5 s }", "did you mean 'silent'?")]
    [InlineData("{ at: \"10:02\", ride: { settings: input/25/low-cut, per-minute: 4, for: 1 min } }", "is no level")]
    public async Task Slip_of_the_pen_is_told_with_what_to_write(string happening, string said)
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run("watch", "--rehearse", Write(happening, ""));
        Assert.Equal(65, exitCode);
        Assert.Contains(said, errors, StringComparison.Ordinal);
        Assert.Contains("x.scenario.yaml:", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Rehearsal_without_a_scenario_or_with_a_desk_is_a_usage_error()
    {
        Assert.Equal(64, (await StatewatchProcess.Run("watch", "--rehearse")).ExitCode);
        Assert.Equal(64, (await StatewatchProcess.Run("watch", Write(Sleeve, ""), "--rehearse", "--desk", "127.0.0.1:9")).ExitCode);
        Assert.Equal(66, (await StatewatchProcess.Run("watch", "--rehearse", "nowhere.scenario.yaml")).ExitCode);
    }

    public void Dispose() => _folder.Dispose();

    private string Write(string happens, string told, string more = "") => _folder.Write("x.scenario.yaml",
        $"format: statewatch/scenario/1\nsay: A test\nplan: {ShippedFiles.Plan}\nbegins: 2026-12-06 10:00\nends: \"10:10\"\nphase: show\nhappens: [{happens}]\ntold: [{told}]\n{more}\n");
}
