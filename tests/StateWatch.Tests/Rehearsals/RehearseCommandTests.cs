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
