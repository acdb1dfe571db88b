using System.CommandLine;
using StateWatch.Core.Reports;
using StateWatch.Files;

namespace StateWatch.Commands;

/// <summary><c>sweep PLAN</c>: read the desk once, judge it by the plan, report, and exit with the verdict.</summary>
internal sealed class SweepCommand
{
    private readonly Argument<string?> _plan = new("PLAN") { Description = "The show plan (*.plan.yaml).", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<bool> _demo = new("--demo") { Description = "Sweep the built-in demo show on a virtual desk with planted incidents." };
    private readonly Option<bool> _simulate = SharedOptions.Simulate();
    private readonly Option<string?> _incidents = SharedOptions.Incidents();
    private readonly PhaseOption _phase = new();
    private readonly CueOption _cue = new("Judge by a cue of the plan: what must be open and closed there. Phase show, unless --phase says otherwise.");
    private readonly Option<string> _format = new("--format") { Description = "How to report: text, json or junit (test results, for build servers).", HelpName = "FORMAT", DefaultValueFactory = _ => "text" };
    private readonly Option<string> _voice = new("--for") { Description = "Whom the text is for: engineer or volunteer.", HelpName = "READER", DefaultValueFactory = _ => "engineer" };
    private readonly DayOption _on = new();
    private readonly Option<string?> _out = SharedOptions.Out();
    private readonly Option<string?> _desk = SharedOptions.Desk();
    private readonly Option<bool> _quiet = SharedOptions.Quiet();
    private readonly Option<bool> _noColour = SharedOptions.NoColour();

    public static Command Build()
    {
        var sweep = new SweepCommand();
        var command = VerbHelp.Verb("sweep", "Read the desk once, compare it with the plan, say what differs and what that means.",
            "It asks questions only: it cannot change a desk. It sends no tone and hears nothing: batteries, microphone switches, amplifiers and\n"
            + "cables beyond the desk stay unseen.\n\n"
            + "Exit codes: 0 as planned, 1 warnings or notices, 2 something urgent, 3 not everything could be verified; 64 usage, 65 plan or\n"
            + "profile invalid, 66 file missing, 70 fault of the program, 73 report cannot be written.");
        command.Arguments.Add(sweep._plan);
        foreach (var option in (Option[])[sweep._demo, sweep._simulate, sweep._incidents, sweep._phase.Option, sweep._cue.Option, sweep._format, sweep._voice, sweep._on.Option, sweep._out, sweep._desk, sweep._quiet, sweep._noColour])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(sweep._plan, command);
        command.SetAction(sweep.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var demo = parsed.GetValue(_demo);
        var planPath = parsed.GetValue(_plan) ?? (demo ? DemoFiles.Plan : null)
            ?? throw new CommandException(ExitCodes.Usage, "statewatch: sweep needs a plan. Try 'statewatch sweep show.plan.yaml', or 'statewatch sweep --demo'.");
        if (demo && planPath != DemoFiles.Plan)
            throw new CommandException(ExitCodes.Usage, "statewatch: --demo brings its own plan; give one or the other. For your plan on a virtual desk use --simulate.");
        var day = _on.Of(parsed);
        var format = OneOf(parsed, _format, ["text", "json", "junit"], notYet: ["html"]);
        var voice = OneOf(parsed, _voice, ["engineer", "volunteer"], notYet: []);
        var incidents = parsed.GetValue(_incidents) ?? (demo ? DemoFiles.Incidents : null);
        var simulate = demo || parsed.GetValue(_simulate);
        if (incidents is not null && !simulate)
            throw new CommandException(ExitCodes.Usage, "statewatch: --incidents happen on a virtual desk only; add --simulate.");

        var files = new FileSet();
        var (plan, script) = PlanChoice.Read(files, planPath, incidents, parsed, _phase, _cue);
        if (plan is null)
            return DiagnosticsOutput.Refuse(files, parsed.GetValue(_noColour));

        using var desk = DeskReading.Open(plan, simulate, script, parsed.GetValue(_desk));
        var subject = new SweepSubject(plan, desk.Reader.Desk, simulate, TimeProvider.System.GetLocalNow()) { By = day };
        var result = Sweep.Run(subject, desk.Reader, Terminal.Progress(parsed.GetValue(_quiet), $"Reading {plan.Profile.Desk}:"), desk.Cancel);
        ReportOutput.Write(result, format, voice, parsed.GetValue(_out), Terminal.Colour(parsed.GetValue(_noColour)));
        return result.ExitCode;
    }

    private static string OneOf(ParseResult parsed, Option<string> option, string[] known, string[] notYet)
    {
        var value = parsed.GetValue(option)!;
        if (known.Contains(value))
            return value;
        throw new CommandException(ExitCodes.Usage, notYet.Contains(value)
            ? $"statewatch: {option.Name} {value} is not built yet; write {Words(known)}."
            : $"statewatch: '{value}' is not a value of {option.Name}; write {Words(known)}.");
    }

    private static string Words(string[] known) => $"{string.Join(", ", known[..^1])} or {known[^1]}";
}
