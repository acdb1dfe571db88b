using System.CommandLine;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary><c>cue NAME|--end</c>: a cue of the plan begins or ends at the desks that are watched here.</summary>
internal sealed class CueCommand
{
    private readonly Argument<string?> _cue = new("NAME") { Description = "A cue of a plan.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<bool> _end = new("--end") { Description = "The cue is over: the plan of the phase holds again." };
    private readonly Option<string?> _desk = ControlCommands.Desk("Only at this desk. Default: at all whose plan has the cue.");
    private readonly Option<string?> _by = ControlCommands.By();
    private readonly Option<string?> _socket = ControlCommands.Socket();

    public static Command Build()
    {
        var cue = new CueCommand();
        var command = VerbHelp.Verb("cue", "Say which moment of the show begins, or that it is over.", "A cue is part of the show phase. Nothing is sent to a desk.\n\n" + ControlCommands.ExitCodesHelp);
        command.Arguments.Add(cue._cue);
        foreach (var option in (Option[])[cue._end, cue._desk, cue._by, cue._socket])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(cue._cue, command);
        command.SetAction(cue.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var (name, end) = (parsed.GetValue(_cue), parsed.GetValue(_end));
        if (name is null == !end)
            throw new CommandException(ExitCodes.Usage, "statewatch: cue takes the name of a cue, or --end.");
        return ControlCommands.Order(parsed.GetValue(_socket), ControlRoutes.Cue, new OrderRequest { Cue = name, End = end, Desk = parsed.GetValue(_desk), By = parsed.GetValue(_by) });
    }
}
