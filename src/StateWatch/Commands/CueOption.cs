using System.CommandLine;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;

namespace StateWatch.Commands;

/// <summary><c>--cue NAME</c>: a point of the show, which is judged in the show phase unless another is given.</summary>
internal sealed class CueOption(string description)
{
    private const int MostListed = 40;

    /// <summary>The option, for the command.</summary>
    public Option<string?> Option { get; } = new("--cue") { Description = description, HelpName = "NAME" };

    /// <summary>The cue that was asked for, or null when none was.</summary>
    /// <exception cref="CommandException">The plan has no such cue (exit 64).</exception>
    public string? Of(ParseResult parsed, PlanDocument document)
    {
        if (parsed.GetValue(Option) is not { } name)
            return null;
        if (document.Cues.Any(cue => cue.Key.Text == name))
            return name;
        var known = document.Cues.Select(cue => PlainText.Clean(cue.Key.Text)).ToList();
        if (known.Count == 0)
            throw new CommandException(ExitCodes.Usage, $"statewatch: {document.File} has no cues, so there is no cue '{name}'; write them under cues:.");
        var near = NearestWord.Among(name, known);
        var more = known.Count > MostListed ? $" and {known.Count - MostListed} more" : "";
        throw new CommandException(ExitCodes.Usage,
            $"statewatch: {document.File} has no cue '{name}'{(near is null ? "" : $"; did you mean '{near}'?")}\nIts cues: {string.Join(", ", known.Take(MostListed))}{more}.");
    }
}
