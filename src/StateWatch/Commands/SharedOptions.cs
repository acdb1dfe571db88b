using System.CommandLine;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Links;

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

    public static Option<bool> Simulate() => new("--simulate") { Description = "Read a virtual desk that is exactly as planned, over real loopback sockets, instead of a desk." };

    public static Option<string?> Out() => new("--out") { Description = "Write the report to a file instead of standard output.", HelpName = "FILE" };

    public static Option<string> Format() => new("--format") { Description = "How to report: text or json.", HelpName = "FORMAT", DefaultValueFactory = _ => "text" };

    public static Option<string?> Incidents() => new("--incidents")
    {
        Description = "A file of scripted incidents for the virtual desk.",
        HelpName = "FILE",
    };

    /// <summary>Whether a value of <see cref="Format"/> is json.</summary>
    /// <exception cref="CommandException">It is neither that nor text (exit 64).</exception>
    public static bool IsJson(string? format) => format is "text" or "json"
        ? format == "json"
        : throw new CommandException(ExitCodes.Usage, $"statewatch: '{format}' is not a value of --format; write text or json.");

    /// <summary>Opens the link to a desk, at the profile's address or another.</summary>
    /// <exception cref="CommandException">The address is none (exit 64).</exception>
    public static UdpDeskReader Open(string? address, DeskProfile profile)
    {
        if (address is null)
            return UdpDeskReader.Open(profile);
        return HostAndPort.TryParse(address, out var host, out var port)
            ? UdpDeskReader.Open(profile, host, port)
            : throw new CommandException(ExitCodes.Usage, $"statewatch: '{address}' is not host:port; write it like 192.0.2.10:9000.");
    }

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
