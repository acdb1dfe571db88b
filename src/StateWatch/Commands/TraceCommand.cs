using System.CommandLine;
using System.Text;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Routing;
using StateWatch.Files;

namespace StateWatch.Commands;

/// <summary><c>trace PLAN FROM TO</c>: why a source is heard at a feed, or is not.</summary>
internal sealed class TraceCommand
{
    private readonly Argument<string> _plan = new("PLAN") { Description = "The show plan (*.plan.yaml)." };
    private readonly Argument<string?> _from = new("FROM") { Description = "A planned input by name, a strip such as input/25, or talk/1.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Argument<string?> _to = new("TO") { Description = "A feed such as room, one of its buses such as \"wedges 3\", or a bus or output of it. Without it: every feed that FROM reaches.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<string?> _feed = new("--to") { Description = "Instead of FROM and TO: everything that feeds this feed.", HelpName = "FEED" };
    private readonly Option<bool> _asPlanned = new("--as-planned") { Description = "Ask no desk: trace a desk that is exactly as planned." };
    private readonly Option<bool> _simulate = SharedOptions.Simulate();
    private readonly Option<string?> _incidents = SharedOptions.Incidents();
    private readonly PhaseOption _phase = new();
    private readonly CueOption _cue = new("Trace by a cue of the plan. Phase show, unless --phase says otherwise.");
    private readonly Option<string> _format = SharedOptions.Format();
    private readonly Option<string?> _out = SharedOptions.Out();
    private readonly Option<string?> _desk = SharedOptions.Desk();
    private readonly Option<bool> _quiet = SharedOptions.Quiet();
    private readonly Option<bool> _noColour = SharedOptions.NoColour();

    public static Command Build()
    {
        var trace = new TraceCommand();
        var command = VerbHelp.Verb("trace", "Say why a source is heard at a feed, or is not: every stage of the way, and the smallest change.",
            "It sends no tone and cannot change a desk: it reads settings and computes. What may close by itself (a gate, an automix) is named,\n"
            + "never counted. Before anything is opened: fader down first.\n\n"
            + "  statewatch trace show.plan.yaml Lectern room\n"
            + "  statewatch trace show.plan.yaml \"Vocal 1\" \"wedges 3\" --as-planned\n"
            + "  statewatch trace show.plan.yaml Lectern\n"
            + "  statewatch trace show.plan.yaml --to stream\n\n"
            + "Exit codes: 0 carried, 1 silent, 3 cannot tell (a setting it depends on was not seen, the desk is silent or another one, or the\n"
            + "way runs in a circle that howls); 64 usage, 65 plan or profile invalid, 66 file missing, 70 fault of the program, 73 report cannot\n"
            + "be written.");
        foreach (var argument in (Argument[])[trace._plan, trace._from, trace._to])
        {
            command.Arguments.Add(argument);
            SharedOptions.RefuseUnknown(argument, command);
        }

        foreach (var option in (Option[])[trace._feed, trace._asPlanned, trace._simulate, trace._incidents, trace._phase.Option, trace._cue.Option, trace._format, trace._out, trace._desk, trace._quiet, trace._noColour])
            command.Options.Add(option);
        command.SetAction(trace.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        RefuseNonsense(parsed);
        var isJson = SharedOptions.IsJson(parsed.GetValue(_format));
        var incidents = parsed.GetValue(_incidents);
        var files = new FileSet();
        var (plan, script) = PlanChoice.Read(files, parsed.GetValue(_plan)!, incidents, parsed, _phase, _cue);
        if (plan is null)
            return DiagnosticsOutput.Refuse(files, parsed.GetValue(_noColour));

        var map = RoutingMap.Of(plan.Profile, plan);
        var names = new TraceNames(plan, map);
        var problem = "";
        var from = parsed.GetValue(_from) is { } source ? names.Source(source, out problem) ?? throw Usage(problem) : null;
        var to = (parsed.GetValue(_feed) ?? parsed.GetValue(_to)) is { } target ? names.Target(target, out problem) ?? throw Usage(problem) : null;
        var result = parsed.GetValue(_asPlanned)
            ? new Trace(new TraceSubject(plan, TraceOrigin.Plan, null, TimeProvider.System.GetLocalNow()), map, from, to).AsPlanned()
            : Read(parsed, plan, map, (from, to), script);
        Report(parsed, result, isJson);
        return result.ExitCode;
    }

    private void RefuseNonsense(ParseResult parsed)
    {
        var (from, to, feed) = (parsed.GetValue(_from), parsed.GetValue(_to), parsed.GetValue(_feed));
        if (from is null && feed is null)
            throw Usage("trace needs a source: 'statewatch trace PLAN FROM TO', 'statewatch trace PLAN FROM', or 'statewatch trace PLAN --to FEED'.");
        if (from is not null && to is not null && feed is not null)
            throw Usage("there are two feeds; give TO or --to, not both.");
        if (parsed.GetValue(_asPlanned) && (parsed.GetValue(_simulate) || parsed.GetValue(_desk) is not null || parsed.GetValue(_incidents) is not null))
            throw Usage("--as-planned asks no desk; leave out --simulate, --incidents and --desk, or --as-planned.");
        if (parsed.GetValue(_simulate) && parsed.GetValue(_desk) is not null)
            throw Usage("--simulate brings its own desk; leave out --desk, or --simulate.");
        if (parsed.GetValue(_incidents) is not null && !parsed.GetValue(_simulate))
            throw Usage("--incidents happen on a virtual desk only; add --simulate.");
    }

    private TraceResult Read(ParseResult parsed, ShowPlan plan, RoutingMap map, (TraceSource? From, TraceTarget? To) ends, Simulator.Incidents.IncidentScript? script)
    {
        var simulate = parsed.GetValue(_simulate);
        using var desk = DeskReading.Open(plan, simulate, script, parsed.GetValue(_desk));
        var subject = new TraceSubject(plan, simulate ? TraceOrigin.VirtualDesk : TraceOrigin.Desk, desk.Reader.Desk, TimeProvider.System.GetLocalNow());
        return new Trace(subject, map, ends.From, ends.To).Read(desk.Reader, Terminal.Progress(parsed.GetValue(_quiet), $"Reading {plan.Profile.Desk}:"), desk.Cancel);
    }

    private void Report(ParseResult parsed, TraceResult result, bool json)
    {
        var path = parsed.GetValue(_out);
        var text = json ? TraceJson.Write(result) : TraceText.Write(result, path is null && Terminal.Colour(parsed.GetValue(_noColour)));
        ReportOutput.Write(Encoding.UTF8.GetBytes(text), path, () => TraceText.Write(result));
    }

    private static CommandException Usage(string problem) => new(ExitCodes.Usage, $"statewatch: {problem}");
}
