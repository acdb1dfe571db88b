using System.CommandLine;
using StateWatch.Core.Documents;
using StateWatch.Links;

namespace StateWatch.Commands;

/// <summary>The command line as a whole: verbs, usage errors, and what happens when a command fails.</summary>
internal static class CommandLine
{
    public static int Run(string[] args)
    {
        var root = BuildRoot();
        VerbHelp.Unfold(root, args);
        var parsed = root.Parse(args);
        if (parsed.Errors.Count > 0)
        {
            var verb = parsed.CommandResult.Command;
            var near = verb is RootCommand && args.Length > 0 ? NearestWord.Among(args[0], root.Subcommands.Select(command => command.Name)) : null;
            foreach (var error in parsed.Errors)
                Console.Error.WriteLine($"statewatch: {error.Message.TrimEnd('.')}{(near is null ? "" : $"; did you mean '{near}'?")}");
            Console.Error.WriteLine(verb is RootCommand ? "Try 'statewatch --help'." : $"Try 'statewatch {verb.Name} --help'.");
            return ExitCodes.Usage;
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
        }
        catch (CommandException problem)
        {
            Console.Error.WriteLine(problem.Message);
            return problem.ExitCode;
        }
        catch (LinkException problem)
        {
            Console.Error.WriteLine($"statewatch: {problem.Message}");
            return ExitCodes.Incomplete;
        }
#pragma warning disable CA1031 // The last resort: whatever it is, it is our fault and must be told as such, with the exit code for it.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            Console.Error.WriteLine($"statewatch: this is a fault of the program, not of your files or desk. Please report it with the text below.\n{problem}");
            return ExitCodes.OwnFault;
        }
    }

    private static RootCommand BuildRoot()
    {
        var root = new RootCommand(
            "A second pair of eyes for the mixing desk: knows the plan of the show, reads the desk, says what differs and what that means.\n"
            + "It only ever asks; it cannot change a desk. It is no safety system: ears, a sound level meter, local codes and licensed practice decide.");
        root.Subcommands.Add(SweepCommand.Build());
        root.Subcommands.Add(TraceCommand.Build());
        root.Subcommands.Add(CaptureCommand.Build());
        root.Subcommands.Add(CheckCommand.Build());
        root.Subcommands.Add(SimulateCommand.Build());
        root.Subcommands.Add(WatchCommand.Build());
        root.Subcommands.Add(StatusCommand.Build());
        root.Subcommands.Add(AckCommand.Build());
        root.Subcommands.Add(HoldCommand.Build());
        root.Subcommands.Add(PhaseCommand.Build());
        root.Subcommands.Add(CueCommand.Build());
        root.Subcommands.Add(HistoryCommand.Build());
        root.SetAction(_ =>
        {
            Console.Error.WriteLine("statewatch: a verb is missing: sweep, watch, status, trace, capture, check, simulate, ack, hold, phase, cue or history. Try 'statewatch --help', or 'statewatch sweep --demo'.");
            return ExitCodes.Usage;
        });
        return root;
    }
}
