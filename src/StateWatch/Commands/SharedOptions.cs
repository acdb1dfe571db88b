using System.CommandLine;
using StateWatch.Core.Documents;

namespace StateWatch.Commands;

/// <summary>Options that several verbs have, so that they read the same everywhere.</summary>
internal static class SharedOptions
{
    public static Option<string?> Desk() => new("--desk")
    {
        Description = "Where the desk is, instead of the profile's 'to': host:port.",
        HelpName = "HOST:PORT",
    };

    public static Option<bool> Quiet() => new("--quiet") { Description = "No progress on standard error." };

    public static Option<bool> NoColour() => new("--no-color") { Description = "No colour, even on a terminal (NO_COLOR does the same)." };

    public static Option<string?> Incidents() => new("--incidents")
    {
        Description = "A file of scripted incidents for the virtual desk.",
        HelpName = "FILE",
    };

    /// <summary>A word that begins with a dash and is no option is a spelling mistake, not a file.</summary>
    public static void RefuseUnknown(Argument argument, Command command) => argument.Validators.Add(result =>
    {
        foreach (var token in result.Tokens)
        {
            if (token.Value.Length < 2 || token.Value[0] != '-')
                continue;
            var near = NearestWord.Among(token.Value, command.Options.Select(option => option.Name));
            result.AddError($"there is no option '{token.Value}'{(near is null ? "" : $"; did you mean '{near}'?")}");
        }
    });
}
