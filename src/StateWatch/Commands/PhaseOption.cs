using System.CommandLine;
using StateWatch.Core.Plans;

namespace StateWatch.Commands;

/// <summary><c>--phase NAME</c>: the part of the day a plan is read for.</summary>
internal sealed class PhaseOption
{
    /// <summary>The option, for the command.</summary>
    public Option<string?> Option { get; } = new("--phase") { Description = "The phase to judge by: build, soundcheck, doors or show. Default: that of the incidents, else the plan's sweep-phase.", HelpName = "NAME" };

    /// <summary>The phase that was asked for, or that of what happens, or the plan's own.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="document">The plan.</param>
    /// <param name="happensIn">The phase of a cue or of incidents, or null.</param>
    /// <exception cref="CommandException">There is no such phase, or none is named anywhere (exit 64).</exception>
    public Phase Of(ParseResult parsed, PlanDocument document, Phase? happensIn)
    {
        var word = parsed.GetValue(Option);
        if (word is null && (happensIn ?? document.SweepPhase) is { } planned)
            return planned;
        if (Phases.TryParse(word, out var phase))
            return phase;
        var list = string.Join(", ", Phases.All);
        throw new CommandException(ExitCodes.Usage, word is null
            ? $"statewatch: {document.File} has no sweep-phase, so say which phase it is: --phase and one of {list}."
            : $"statewatch: '{word}' is not a phase; write one of {list}.");
    }
}
