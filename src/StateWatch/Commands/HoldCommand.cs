using System.CommandLine;
using System.Globalization;
using StateWatch.Control;

namespace StateWatch.Commands;

/// <summary><c>hold FINDING --by NAME --why TEXT</c>: a finding is put aside for a while.</summary>
internal sealed class HoldCommand
{
    private readonly Argument<string> _finding = new("FINDING") { Description = "Its id from 'status', or the beginning of it." };
    private readonly Option<string?> _by = ControlCommands.By();
    private readonly Option<string?> _why = new("--why") { Description = "Why it is put aside.", HelpName = "TEXT" };
    private readonly Option<string?> _for = new("--for") { Description = "For how long, such as 45m or 2h. Default: 30m; at most 30d.", HelpName = "SPAN" };
    private readonly Option<bool> _once = new("--once") { Description = "Only for the episode that stands now." };
    private readonly Option<bool> _end = new("--end") { Description = "Tell it again from now on." };
    private readonly Option<string?> _desk = ControlCommands.Desk("The desk, where several have such a finding.");
    private readonly Option<string?> _socket = ControlCommands.Socket();

    public static Command Build()
    {
        var hold = new HoldCommand();
        var command = VerbHelp.Verb("hold", "Put a finding aside for a while, or tell it again.",
            "It ends by itself. 'status' goes on showing it, with who put it aside and why, and its exit code still counts it. What is protected\n"
            + "cannot be put aside.\n\n"
            + "  statewatch hold drift:input/12/fader --by Kim --why \"soloist sits closer today\" --for 2h\n"
            + "  statewatch hold drift:input/12/fader --end --by Kim\n\n" + ControlCommands.ExitCodesHelp);
        command.Arguments.Add(hold._finding);
        foreach (var option in (Option[])[hold._by, hold._why, hold._for, hold._once, hold._end, hold._desk, hold._socket])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(hold._finding, command);
        command.SetAction(hold.Run);
        return command;
    }

    /// <summary>Minutes of a text such as 90s, 45m, 2h or 1d.</summary>
    public static double? MinutesOf(string text)
    {
        if (text.Length < 2 || !double.TryParse(text.AsSpan(0, text.Length - 1), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) || number <= 0)
            return null;
        return text[^1] switch { 's' => number / 60, 'm' => number, 'h' => number * 60, 'd' => number * 1440, _ => null };
    }

    private int Run(ParseResult parsed)
    {
        var end = parsed.GetValue(_end);
        if (end && (parsed.GetValue(_why) ?? parsed.GetValue(_for)) is not null)
            throw new CommandException(ExitCodes.Usage, "statewatch: --end tells a finding again; it goes with neither --why nor --for.");
        var span = parsed.GetValue(_for);
        double? minutes = span is null ? null : MinutesOf(span) ?? throw new CommandException(ExitCodes.Usage, $"statewatch: '{span}' is no span of time; write it like 45m or 2h.");
        return ControlCommands.Order(parsed.GetValue(_socket), ControlRoutes.Hold, new OrderRequest
        {
            Finding = parsed.GetValue(_finding),
            Desk = parsed.GetValue(_desk),
            By = ControlCommands.Required(parsed.GetValue(_by), "hold needs an owner: add --by and your name."),
            Why = end ? null : ControlCommands.Required(parsed.GetValue(_why), "a finding is put aside for a reason: add --why and a few words."),
            Minutes = minutes,
            Once = parsed.GetValue(_once),
            End = end,
        });
    }
}
