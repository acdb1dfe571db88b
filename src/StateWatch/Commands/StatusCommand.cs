using System.CommandLine;
using System.Text.Json;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary><c>status [DESK]</c>: how everything stands that a watch on this machine watches.</summary>
internal sealed class StatusCommand
{
    private readonly Argument<string?> _desk = new("DESK") { Description = "The name of a desk; without it all of them.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<string> _format = SharedOptions.Format();
    private readonly Option<string?> _socket = ControlCommands.Socket();

    public static Command Build()
    {
        var status = new StatusCommand();
        var command = VerbHelp.Verb("status", "Say what stands at the desks that are watched here, worst first.",
            "Each finding has since when it stands, what to do, and the id that 'ack' and 'hold' take.\n\n"
            + "Exit codes, by the convention of monitoring plug-ins: 0 as planned, 1 warnings or notices, 2 something urgent, 3 not everything is\n"
            + "seen; what is acknowledged or put aside counts all the same. 64 usage or an unknown desk, 69 no watch runs here.");
        command.Arguments.Add(status._desk);
        command.Options.Add(status._format);
        command.Options.Add(status._socket);
        SharedOptions.RefuseUnknown(status._desk, command);
        command.SetAction(status.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var isJson = SharedOptions.IsJson(parsed.GetValue(_format));
        using var client = ControlClient.Open(parsed.GetValue(_socket));
        var report = client.Status(parsed.GetValue(_desk));
        if (isJson)
            Console.Out.Write($"{JsonSerializer.Serialize(report, ControlJson.Default.StatusReport)}\n");
        else
            Console.Out.Write(StatusText.Write(report));
        return report.ExitCode;
    }
}
