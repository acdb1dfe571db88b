using System.CommandLine;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary><c>ack FINDING --by NAME</c>: somebody knows of a finding.</summary>
internal sealed class AckCommand
{
    private readonly Argument<string> _finding = new("FINDING") { Description = "Its id from 'status', or the beginning of it." };
    private readonly Option<string?> _by = ControlCommands.By();
    private readonly Option<string?> _desk = ControlCommands.Desk("The desk, where several have such a finding.");
    private readonly Option<string?> _socket = ControlCommands.Socket();

    public static Command Build()
    {
        var ack = new AckCommand();
        var command = VerbHelp.Verb("ack", "Say that you know of a finding.", "It expires after 20 minutes, and when the finding gets worse.\n\n" + ControlCommands.ExitCodesHelp);
        command.Arguments.Add(ack._finding);
        foreach (var option in (Option[])[ack._by, ack._desk, ack._socket])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(ack._finding, command);
        command.SetAction(ack.Run);
        return command;
    }

    private int Run(ParseResult parsed) => ControlCommands.Order(parsed.GetValue(_socket), ControlRoutes.Acknowledge, new OrderRequest
    {
        Finding = parsed.GetValue(_finding),
        Desk = parsed.GetValue(_desk),
        By = ControlCommands.Required(parsed.GetValue(_by), "ack needs an owner: add --by and your name."),
    });
}
