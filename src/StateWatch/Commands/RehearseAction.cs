using StateWatch.Core.Documents;
using StateWatch.Core.Watching;
using StateWatch.Files;
using StateWatch.Hosting;
using StateWatch.Rehearsals;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Commands;

/// <summary><c>watch --rehearse SCENARIO…</c>: live through days in virtual time, and see whether what had to be told was.</summary>
internal static class RehearseAction
{
    /// <summary>Rehearses one scenario after the other.</summary>
    /// <param name="paths">The scenarios.</param>
    /// <param name="isQuiet">Whether progress is not shown.</param>
    /// <param name="isColourless">Whether faults are shown without colour.</param>
    /// <param name="record">Where the only one is recorded, or null.</param>
    /// <param name="cancel">Ends it.</param>
    /// <returns>0 when every one told what it had to, 1 when one did not, 65 when a file has a fault.</returns>
    public static int Run(IReadOnlyList<string> paths, bool isQuiet, bool isColourless, string? record, CancellationToken cancel = default)
    {
        var code = ExitCodes.AsPlanned;
        foreach (var path in paths)
        {
            var one = Rehearse(path, isQuiet, isColourless, record, cancel);
            code = Math.Max(code, one);
        }

        return code;
    }

    private static int Rehearse(string path, bool isQuiet, bool isColourless, string? record, CancellationToken cancel)
    {
        var files = new FileSet();
        var source = files.Read(path);
        var planAt = source is null ? null : ScenarioReader.PlanOf(source, files.Diagnostics);
        if (planAt is null)
            return DiagnosticsOutput.Refuse(files, isColourless);
        var planPath = Path.Combine(Path.GetDirectoryName(path) ?? "", planAt.Text);
        if (!File.Exists(planPath))
        {
            files.Diagnostics.Add(DocumentCodes.BadValue, planAt.At, $"there is no file '{planPath}'", "write the path of the plan, relative to this scenario");
            return DiagnosticsOutput.Refuse(files, isColourless);
        }

        var reading = new PlanSource(planPath).Read();
        if (reading.Plan is not { } plan)
            return DiagnosticsOutput.Refuse(reading.Files, isColourless);
        var scenario = ScenarioReader.Read(source!, plan.Document, plan.Profile, files.Diagnostics);
        if (scenario is null)
            return DiagnosticsOutput.Refuse(files, isColourless);
        return Live(scenario, plan, path, isQuiet, record, cancel);
    }

    private static FileStream Create(string path)
    {
        try
        {
            return new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.Read);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {path}: cannot write the recording: {problem.Message}");
        }
    }

    private static int Live(Scenario scenario, WatchedPlan plan, string path, bool isQuiet, string? record, CancellationToken cancel)
    {
        const string Desk = "rehearsal/desk";
        using var day = new RehearsedDay(scenario, plan, Desk);
        var progress = Terminal.Progress(isQuiet, $"Rehearsing {scenario.Say}:");
        try
        {
            if (record is not null)
                day.RecordTo(Create(record));
            day.Run(part => progress?.Invoke((int)(100 * part), 100), cancel);
            day.EndRecording();
        }
        catch (IOException problem) when (record is not null)
        {
            throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {record}: cannot write the recording: {problem.Message}");
        }

        progress?.Invoke(100, 100);
        var verdict = RehearsalVerdict.Of(scenario, Desk, day.Told, day.Clock);
        RehearsalText.Write(Console.Out, path, scenario, day, verdict);
        return verdict.IsAsTold && day.Refused.Count == 0 && !cancel.IsCancellationRequested ? ExitCodes.AsPlanned : ExitCodes.Warnings;
    }
}
