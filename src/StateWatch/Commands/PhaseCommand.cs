using System.CommandLine;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary><c>phase NAME</c>: another part of the day begins at the desks that are watched here.</summary>
internal sealed class PhaseCommand
{
    private readonly Argument<string> _phase = new("NAME") { Description = "build, soundcheck, doors or show." };
    private readonly Option<string?> _desk = ControlCommands.Desk("Only at this desk. Default: at all of them.");
    private readonly Option<string?> _by = ControlCommands.By();
    private readonly Option<string?> _socket = ControlCommands.Socket();

    public static Command Build()
    {
        var phase = new PhaseCommand();
        var command = VerbHelp.Verb("phase", "Say which part of the day begins: build, soundcheck, doors or show.", "It ends the cue. Nothing is sent to a desk.\n\n" + ControlCommands.ExitCodesHelp);
        command.Arguments.Add(phase._phase);
        foreach (var option in (Option[])[phase._desk, phase._by, phase._socket])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(phase._phase, command);
        command.SetAction(phase.Run);
        return command;
    }

    private int Run(ParseResult parsed) => ControlCommands.Order(parsed.GetValue(_socket), ControlRoutes.Phase,
        new OrderRequest { Phase = parsed.GetValue(_phase), Desk = parsed.GetValue(_desk), By = parsed.GetValue(_by) });
}
