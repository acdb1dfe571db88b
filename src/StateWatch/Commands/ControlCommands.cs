using System.CommandLine;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary>What the verbs that talk to a running watch have in common.</summary>
internal static class ControlCommands
{
    /// <summary>Where exit codes are told in the help of orders.</summary>
    public const string ExitCodesHelp = "Exit codes: 0 done, 1 not done, or not yet (the reason is printed), 64 usage or an unknown name, 69 no watch runs here.";

    public static Option<string?> Socket() => new("--socket") { Description = "The control socket of the watch. Default: where a watch on this machine has it.", HelpName = "PATH" };

    public static Option<string?> Desk(string description) => new("--desk") { Description = description, HelpName = "NAME" };

    public static Option<string?> By() => new("--by") { Description = "Who does it, so that others know whom to ask.", HelpName = "NAME" };

    /// <summary>Orders something, and prints what became of it.</summary>
    public static int Order(string? socket, string path, OrderRequest request)
    {
        using var client = ControlClient.Open(socket);
        var answer = client.Order(path, request);
        foreach (var line in answer.Lines)
            (answer.Done ? Console.Out : Console.Error).WriteLine(answer.Done ? line : $"statewatch: {line}");
        return answer.Done ? 0 : answer.Unknown ? ExitCodes.Usage : ExitCodes.Warnings;
    }

    /// <summary>A required option, whose absence is told with what to write.</summary>
    public static string Required(string? value, string words) =>
        string.IsNullOrWhiteSpace(value) ? throw new CommandException(ExitCodes.Usage, $"statewatch: {words}") : value;
}
