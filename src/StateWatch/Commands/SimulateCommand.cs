using System.CommandLine;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Files;
using StateWatch.Links;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Commands;

/// <summary><c>simulate PLAN|PROFILE</c>: a virtual desk on a real socket, with scripted incidents and a faulty network.</summary>
internal sealed class SimulateCommand
{
    private readonly Argument<string> _file = new("PLAN|PROFILE") { Description = "A show plan (the virtual desk is as planned) or a desk profile (as after a reset)." };
    private readonly Option<int?> _port = new("--port") { Description = "UDP port to listen on; 0 for any free one. Default: the profile's.", HelpName = "PORT" };
    private readonly Option<string?> _incidents = SharedOptions.Incidents();
    private readonly Option<string?> _phase = new("--phase") { Description = "The phase whose plan the desk follows. Default: the plan's sweep-phase.", HelpName = "NAME" };
    private readonly CueOption _cue = new("The cue of the plan the desk stands at. Phase show, unless --phase says otherwise.");
    private readonly Option<double?> _seconds = new("--seconds") { Description = "Stop after so many seconds. Default: run until Ctrl-C.", HelpName = "N" };
    private readonly Option<double> _loss = new("--loss") { Description = "Per cent of datagrams lost, each way (0 to 100).", HelpName = "PERCENT" };
    private readonly Option<double> _duplicates = new("--duplicates") { Description = "Per cent of datagrams that arrive twice, each way (0 to 100).", HelpName = "PERCENT" };
    private readonly Option<double> _delay = new("--delay") { Description = "Longest extra delay in milliseconds, each way (0 to 10000).", HelpName = "MS" };

    public static Command Build()
    {
        var simulate = new SimulateCommand();
        var command = VerbHelp.Verb("simulate", "A virtual desk on a loopback socket, to try plans and profiles without hardware.",
            "It answers questions, and takes set messages as a desk would. Incidents happen at their 'after' times. Other machines cannot reach it.");
        command.Arguments.Add(simulate._file);
        foreach (var option in (Option[])[simulate._port, simulate._incidents, simulate._phase, simulate._cue.Option, simulate._seconds, simulate._loss, simulate._duplicates, simulate._delay])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(simulate._file, command);
        command.SetAction(simulate.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var files = new FileSet();
        var (desk, profile, plan) = Load(parsed, files);
        var script = profile is not null && parsed.GetValue(_incidents) is { } path && files.Read(path) is { } source
            ? IncidentReader.Read(source, profile, files.Diagnostics)
            : null;
        if (desk is null || profile is null || files.Diagnostics.HasErrors)
            return DiagnosticsOutput.Refuse(files, noColour: false);
        if (script is not null)
            desk.Unanswered = script.Unanswered;

        var faults = new WireFaults
        {
            Loss = Within(parsed, _loss, 100) / 100,
            Duplicates = Within(parsed, _duplicates, 100) / 100,
            DelayMost = TimeSpan.FromMilliseconds(Within(parsed, _delay, 10_000)),
        };
        using var cancel = new CancellationTokenSource();
        Console.CancelKeyPress += (_, e) =>
        {
            e.Cancel = true;
            cancel.Cancel();
        };
        if (parsed.GetValue(_seconds) is { } seconds)
            cancel.CancelAfter(TimeSpan.FromSeconds(Math.Clamp(seconds, 0, 1_000_000)));
        using var server = UdpVirtualDesk.Start(desk, PortOf(parsed, profile), toDesk: faults, fromDesk: faults);
        Console.Out.WriteLine($"Virtual {profile.Desk}{(plan is null ? "" : $" as planned for {plan.Show}{(plan.Cue is null ? "" : $" at cue {plan.Cue.Name}")}")} answers at {server.EndPoint}. Ctrl-C stops it.");
        PlayIncidents(server, script, cancel.Token);
        return 0;
    }

    private static void PlayIncidents(UdpVirtualDesk server, IncidentScript? script, CancellationToken cancel)
    {
        var clock = TimeProvider.System;
        var start = clock.GetTimestamp();
        foreach (var incident in (script?.Incidents ?? []).OrderBy(item => item.After))
        {
            var wait = incident.After - clock.GetElapsedTime(start);
            if (wait > TimeSpan.Zero && cancel.WaitHandle.WaitOne(wait))
                return;
            server.Apply(incident);
            Console.Out.WriteLine($"{incident.After.TotalSeconds,6:0.0} s  {incident.Say}");
        }

        cancel.WaitHandle.WaitOne();
    }

    private (VirtualDesk? Desk, DeskProfile? Profile, ShowPlan? Plan) Load(ParseResult parsed, FileSet files)
    {
        var path = parsed.GetValue(_file)!;
        var source = files.Read(path);
        var quiet = new DiagnosticBag();
        var isProfile = source is not null && (YamlText.Read(source, quiet)?.Find("format") as ScalarNode)?.Text == ProfileReader.Format;
        if (isProfile)
        {
            var own = files.ReadProfile(path);
            return (own is null ? null : new VirtualDesk(own), own, null);
        }

        var (document, profile) = files.ReadPlan(path);
        if (document is null || profile is null)
            return (null, profile, null);
        var word = parsed.GetValue(_phase);
        var cue = _cue.Of(parsed, document);
        var phase = cue is not null ? Phase.Show : document.SweepPhase ?? Phase.Doors;
        if (word is not null && !Phases.TryParse(word, out phase))
            throw new CommandException(ExitCodes.Usage, $"statewatch: '{word}' is not a phase; write one of {string.Join(", ", Phases.All)}.");
        var plan = PlanCompiler.Compile(document, profile, phase, files.Diagnostics, cue: cue);
        return (plan is null ? null : DeskRehearsal.MakeDesk(plan), profile, plan);
    }

    private int PortOf(ParseResult parsed, DeskProfile profile)
    {
        var port = parsed.GetValue(_port) ?? profile.Link.Port;
        return port is >= 0 and <= 65535 ? port : throw new CommandException(ExitCodes.Usage, $"statewatch: {port} is not a port; 0 to 65535.");
    }

    private static double Within(ParseResult parsed, Option<double> option, double most)
    {
        var value = parsed.GetValue(option);
        return value >= 0 && value <= most ? value : throw new CommandException(ExitCodes.Usage, $"statewatch: {option.Name} takes 0 to {most:0}.");
    }
}
