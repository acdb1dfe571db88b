using System.CommandLine;

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
}
