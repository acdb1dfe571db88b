using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>The check verb as a user runs it.</summary>
public sealed class CheckCommandTests
{
    [Fact]
    public async Task The_shipped_files_are_good()
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run("check", ShippedFiles.Desk, ShippedFiles.Plan, ShippedFiles.Incidents);
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains("Midwinter gathering", output, StringComparison.Ordinal);
        Assert.Contains("14 incidents", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Faults_of_shape_and_faults_of_meaning_are_told_together()
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken))
            .Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal)
            .Replace("role: choir,", "role: chior,", StringComparison.Ordinal)
            .Replace("purpose: monitor", "purpose: monitr", StringComparison.Ordinal)
            .Replace("low-cut: on, phantom: on, gain", "low-cutt: on, phantom: on, gain", StringComparison.Ordinal);
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", folder.Write("typos.plan.yaml", text));
        Assert.Equal(65, exitCode);
        foreach (var word in (string[])["choir", "monitor", "low-cut"])
            Assert.Contains($"did you mean '{word}'?", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plan_audit_warning_gives_exit_1()
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken))
            .Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal)
            .Replace("\nroles:\n", "\nroles:\n  brass: { dca: Band }\n", StringComparison.Ordinal);
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", folder.Write("role.plan.yaml", text));
        Assert.Equal(1, exitCode);
        Assert.Contains("unused-role", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2020-01-31", 1)]
    [InlineData("9999-12-31", 0)]
    public async Task A_waiver_that_is_over_gives_a_warning(string until, int expected)
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken))
            .Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal)
            + $"\nwaivers:\n  - {{ finding: \"low-cut-off:input/25/low-cut\", owner: A. Engineer, why: worn switch, until: {until} }}\n";
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", folder.Write("waiver.plan.yaml", text));
        Assert.Equal(expected, exitCode);
        Assert.Equal(expected == 1, errors.Contains($"ended on {until} and no longer counts", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("2026-11-22", 0, "")]
    [InlineData("2027-02-20", 0, "")]
    [InlineData("2027-02-21", 1, "expired-coupling")]
    [InlineData("2026-11-21", 65, "measured-later")]
    [InlineData("21.2.2027", 64, "'21.2.2027' is not a day")]
    public async Task A_measured_coupling_counts_for_ninety_days(string day, int expected, string said)
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken))
            .Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal)
            + "\ncouplings:\n  - { mic: Lectern, feed: room, loss: 52 dB, measured: 2026-11-22, by: A. Engineer }\n";
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", folder.Write("coupling.plan.yaml", text), "--on", day);
        Assert.Equal(expected, exitCode);
        Assert.Contains(said, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hostile_files_are_refused_with_a_clear_error()
    {
        using var folder = new ScratchFolder();
        foreach (var (name, text) in new[] { ("brackets.plan.yaml", new string('[', 200_000)), ("empty.plan.yaml", ""), ("tabs.plan.yaml", "format: statewatch/show/1\n\tshow: X\n") })
        {
            var (exitCode, output, errors) = await StatewatchProcess.Run("check", folder.Write(name, text));
            Assert.Equal((65, ""), (exitCode, output));
            Assert.Contains($"{name}:", errors, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Explain_names_the_line_that_counts_and_the_one_it_outdoes()
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run("check", ShippedFiles.Plan, "--explain", "input/1/send/mix/15/on");
        Assert.Equal((0, ""), (exitCode, errors));
        var lines = await File.ReadAllLinesAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken);
        var kick = 1 + Array.FindIndex(lines, line => line.Contains("name: Kick", StringComparison.Ordinal));
        Assert.Contains("planned on", output, StringComparison.Ordinal);
        Assert.Contains($"counts   {ShippedFiles.Plan}:{kick}:", output, StringComparison.Ordinal);
        Assert.Contains($"outdone  {ShippedFiles.Plan}:{kick}:3: off", output, StringComparison.Ordinal);
        Assert.Contains("class routing is locked", output, StringComparison.Ordinal);
        Assert.Contains("/lane/01/pour/o", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_cue_is_compiled_and_one_can_be_explained()
    {
        using var folder = new ScratchFolder();
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken)).Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal);
        var plan = folder.Write("cues.plan.yaml", text + "\ncues:\n  Sermon: { open: [Lectern], closed: [choir] }\n  Song: { open: [choir], inputs: { 17: { to: { fills: on } } } }\n");
        var (exitCode, output, errors) = await StatewatchProcess.Run("check", plan);
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains(", 2 cues.", output, StringComparison.Ordinal);
        (exitCode, output, errors) = await StatewatchProcess.Run("check", plan, "--explain", "input/17/send/matrix/1/on", "--cue", "Song");
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains("planned on", output, StringComparison.Ordinal);
        Assert.Contains("(a cue's line for this input)", output, StringComparison.Ordinal);
        (exitCode, _, errors) = await StatewatchProcess.Run("check", plan, "--explain", "input/17/on", "--cue", "Sog");
        Assert.Equal(64, exitCode);
        Assert.Contains("did you mean 'Song'?\nIts cues: Sermon, Song.", errors, StringComparison.Ordinal);
        (exitCode, _, errors) = await StatewatchProcess.Run("check", folder.Write("broken.plan.yaml", text + "\ncues:\n  Song: { open: [choir], inputs: { 25: { to: { stream: off, Voices: off } } } }\n"));
        Assert.Equal(65, exitCode);
        Assert.Contains("at cue 'Song': 'stream' must carry talker", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Explain_of_a_misspelled_setting_names_the_nearest()
    {
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", ShippedFiles.Plan, "--explain", "input/20/nmae");
        Assert.Equal(64, exitCode);
        Assert.Contains("did you mean 'input/20/name'?", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_small_plan_over_the_weekly_one_is_checked_and_swept()
    {
        using var folder = new ScratchFolder();
        _ = folder.Write("weekly.plan.yaml", (await File.ReadAllTextAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken)).Replace("../desks/larch-48.desk.yaml", ShippedFiles.Desk, StringComparison.Ordinal));
        var today = folder.Write("today.plan.yaml", "format: statewatch/show/1\nextends: weekly.plan.yaml\nshow: Second evening\ninputs: { 25: { name: Pulpit } }\n");
        Assert.Equal(0, (await StatewatchProcess.Run("check", today)).ExitCode);
        var (_, output, _) = await StatewatchProcess.Run("check", today, "--explain", "input/25/name");
        Assert.Contains("planned Pulpit", output, StringComparison.Ordinal);
        Assert.Contains("today.plan.yaml:4:23", output, StringComparison.Ordinal);
        var (missing, _, errors) = await StatewatchProcess.Run("check", folder.Write("lost.plan.yaml", "format: statewatch/show/1\nextends: nowhere.plan.yaml\nshow: Lost\n"));
        Assert.Equal(65, missing);
        Assert.Contains("lost.plan.yaml:2:10: error cannot-extend", errors, StringComparison.Ordinal);
    }
}
