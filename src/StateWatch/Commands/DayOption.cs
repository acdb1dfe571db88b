using System.CommandLine;
using System.Globalization;

namespace StateWatch.Commands;

/// <summary>The option <c>--on DAY</c>: by which day waivers and measured couplings count.</summary>
internal sealed class DayOption
{
    /// <summary>The option.</summary>
    public Option<string?> Option { get; } = new("--on")
    {
        Description = "The day by which waivers and measured couplings are checked, such as 2026-12-06: will they still count then? Default: today, where the show is.",
        HelpName = "DAY",
    };

    /// <summary>The day, or null for today.</summary>
    /// <exception cref="CommandException">It is no day (exit 64).</exception>
    public DateOnly? Of(ParseResult parsed) => parsed.GetValue(Option) is not { } text ? null
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day
        : throw new CommandException(ExitCodes.Usage, $"statewatch: '{text}' is not a day; write year-month-day, such as 2026-12-06.");
}
