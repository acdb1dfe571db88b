using System.CommandLine;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Files;
using StateWatch.Simulator.Incidents;
using StateWatch.Upgrades;

namespace StateWatch.Commands;

/// <summary><c>check FILE…</c>: validate plans, profiles and incidents without a desk, and audit the plan itself.</summary>
internal sealed class CheckCommand
{
    private readonly Argument<string[]> _files = new("FILE") { Description = "Plans (*.plan.yaml), desk profiles (*.desk.yaml) and incidents (after the plan or profile they belong to).", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string?> _explain = new("--explain") { Description = "Print what the plan says about one setting: the line that counts and the lines it outdoes.", HelpName = "SETTING" };
    private readonly Option<string?> _phase = new("--phase") { Description = "The phase to explain for. Default: the plan's sweep-phase.", HelpName = "NAME" };
    private readonly Option<bool> _upgrade = new("--upgrade") { Description = "Bring files of an older format to the current one, in place, and check nothing else. So far every format is in its first version." };
    private readonly CueOption _cue = new("The cue to explain for. Phase show, unless --phase says otherwise.");
    private readonly DayOption _on = new();
    private readonly Option<bool> _quiet = new("--quiet") { Description = "Print faults only." };
    private readonly Option<bool> _noColour = SharedOptions.NoColour();

    public static Command Build()
    {
        var check = new CheckCommand();
        var command = VerbHelp.Verb("check", "Validate plans, desk profiles and incidents without a desk.",
            "All faults are told at once, each with its place and what to do; and what a plan allows but probably does not mean. Every cue is compiled.\n\n"
            + "Exit codes: 0 good, 1 warnings, 65 a file is invalid, 66 a file is missing, 73 a file cannot be written (--upgrade).");
        command.Arguments.Add(check._files);
        command.Options.Add(check._explain);
        command.Options.Add(check._phase);
        command.Options.Add(check._cue.Option);
        command.Options.Add(check._on.Option);
        command.Options.Add(check._upgrade);
        command.Options.Add(check._quiet);
        command.Options.Add(check._noColour);
        SharedOptions.RefuseUnknown(check._files, command);
        command.SetAction(check.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        if (parsed.GetValue(_explain) is { } setting)
            return Explain(parsed, setting);
        if (parsed.GetValue(_upgrade))
            return UpgradeAction.Run(parsed.GetValue(_files)!, FormatStep.All, FormatLine.Known, parsed.GetValue(_quiet), parsed.GetValue(_noColour));
        if (parsed.GetValue(_cue.Option) is not null)
            throw new CommandException(ExitCodes.Usage, "statewatch: --cue goes with --explain; without it every cue is checked.");
        var day = _on.Of(parsed);
        var files = new FileSet();
        var summary = new List<string>();
        DeskProfile? profile = null;
        foreach (var path in parsed.GetValue(_files)!)
            profile = CheckOne(files, path, profile, day, summary) ?? profile;
        DiagnosticsOutput.Print(files, parsed.GetValue(_noColour));
        if (!parsed.GetValue(_quiet) && !files.Diagnostics.HasErrors)
        {
            foreach (var line in summary)
                Console.Out.WriteLine(line);
        }

        return files.Diagnostics.HasErrors ? ExitCodes.Invalid
            : files.Diagnostics.Items.Any(item => item.Code.Level == DiagnosticLevel.Warning) ? ExitCodes.Warnings
            : ExitCodes.AsPlanned;
    }

    private int Explain(ParseResult parsed, string path)
    {
        if (parsed.GetValue(_files) is not [var planPath])
            throw new CommandException(ExitCodes.Usage, "statewatch: --explain takes one plan.");
        var files = new FileSet();
        var (document, profile) = files.ReadPlan(planPath);
        var cue = document is null ? null : _cue.Of(parsed, document);
        var phase = cue is null && document?.SweepPhase is { } planned ? planned : Phase.Show;
        if (parsed.GetValue(_phase) is { } word && !Phases.TryParse(word, out phase))
            throw new CommandException(ExitCodes.Usage, $"statewatch: '{word}' is not a phase; write one of {string.Join(", ", Phases.All)}.");
        var plan = document is null || profile is null ? null : PlanCompiler.Compile(document, profile, phase, files.Diagnostics, cue: cue);
        if (plan is null)
            return DiagnosticsOutput.Refuse(files, parsed.GetValue(_noColour));
        var id = plan.Profile.Find(path);
        if (id < 0)
        {
            var near = NearestWord.Among(path, plan.Profile.Settings.Select(setting => setting.Path));
            throw new CommandException(ExitCodes.Usage, $"statewatch: the profile of {plan.Profile.Desk} sees no setting '{path}'{(near is null ? "" : $"; did you mean '{near}'?")}");
        }

        Console.Out.Write(SettingExplanation.Write(plan, id));
        return ExitCodes.AsPlanned;
    }

    private static DeskProfile? CheckOne(FileSet files, string path, DeskProfile? known, DateOnly? day, List<string> summary)
    {
        switch (FormatOf(files, path))
        {
            case ProfileReader.Format:
                var profile = files.ReadProfile(path);
                if (profile is not null)
                    summary.Add($"{path}: {profile.Desk}, {profile.Settings.Count:N0} settings at {profile.Endpoints.Count:N0} addresses.");
                return profile;
            case IncidentReader.Format when known is null:
                throw new CommandException(ExitCodes.Usage, $"statewatch: {path} holds incidents; name the plan or profile they belong to before it.");
            case IncidentReader.Format:
                if (files.Source(path) is { } source && IncidentReader.Read(source, known!, files.Diagnostics) is { } script)
                    summary.Add($"{path}: {script.Incidents.Count} incidents.");
                return null;
            default:
                return CheckPlan(files, path, day, summary);
        }
    }

    private static DeskProfile? CheckPlan(FileSet files, string path, DateOnly? day, List<string> summary)
    {
        var (document, profile) = files.ReadPlan(path);
        if (document is null || profile is null)
            return null;
        // The phases differ only in their own settings, so the others are compiled to find conflicts in those.
        var phase = document.SweepPhase ?? Phase.Show;
        var plan = PlanCompiler.Compile(document, profile, phase, files.Diagnostics, auditPlan: true);
        var today = day ?? document.DayOf(TimeProvider.System.GetLocalNow());
        WaiverCheck.Dates(document.Waivers, today, files.Diagnostics);
        CouplingCheck.Dates(document.Couplings, today, files.Diagnostics);
        if (plan is null)
            return profile;
        foreach (var line in document.PhaseLines)
        {
            if (line.Phase != phase && line.Settings.Count > 0)
            {
                var others = new DiagnosticBag();
                _ = PlanCompiler.Compile(document, profile, line.Phase, others);
                foreach (var item in others.Items.Where(item => !files.Diagnostics.Items.Contains(item)))
                    files.Diagnostics.Add(item.Code, item.At, item.Message, item.Advice, item.Suggestion);
            }
        }

        CueCheck.All(document, profile, files.Diagnostics);
        summary.Add($"{path}: {plan.Show}, {plan.Expectations.Count:N0} of {profile.Settings.Count:N0} settings of {profile.Desk} planned (phase {phase.Word()}){(document.Cues.Count > 0 ? $", {document.Cues.Count:N0} cue{(document.Cues.Count == 1 ? "" : "s")}" : "")}.");
        return profile;
    }

    // Which kind of file it is decides who reads it; the reader itself complains about a wrong or missing format line.
    private static string FormatOf(FileSet files, string path)
    {
        foreach (var line in (files.Read(path)?.Text ?? "").AsSpan().EnumerateLines())
        {
            if (line.StartsWith("format:", StringComparison.Ordinal))
                return line["format:".Length..].Trim().Trim("\"'").ToString();
        }

        return path.EndsWith(".desk.yaml", StringComparison.Ordinal) ? ProfileReader.Format : "";
    }
}
