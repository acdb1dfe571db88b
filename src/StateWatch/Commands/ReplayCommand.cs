using System.CommandLine;
using System.Text;
using StateWatch.Recordings;

namespace StateWatch.Commands;

/// <summary><c>history replay RECORDING</c>: decide again what a recorded watch decided, and say whether it is the same.</summary>
internal sealed class ReplayCommand
{
    private readonly Argument<string> _recording = new("RECORDING") { Description = "A recording (*.rec), as 'watch --record' writes it." };
    private readonly Option<string> _format = SharedOptions.Format();
    private readonly Option<string?> _out = SharedOptions.Out();

    public static Command Build()
    {
        var replay = new ReplayCommand();
        var command = new Command("replay", "Decide again what a recorded watch has decided, tell what it told, and say whether it is the same.\n\n"
            + "Everything is in the recording: plan, profile, what was remembered, every datagram and order with its time. No desk is asked, nobody is told.\n\n"
            + "Exit codes: 0 identical, 1 different (the first difference is told); 64 usage, 65 no recording or a broken one, 66 file missing, 70 fault of the program, 73 report cannot be written.");
        command.Arguments.Add(replay._recording);
        command.Options.Add(replay._format);
        command.Options.Add(replay._out);
        SharedOptions.RefuseUnknown(replay._recording, command);
        command.SetAction(replay.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var isJson = SharedOptions.IsJson(parsed.GetValue(_format));
        var path = parsed.GetValue(_recording)!;
        var (result, fault) = Play(path);
        if (result is null)
            throw new CommandException(ExitCodes.Invalid, $"statewatch: {path}: {fault}. It is no recording that can be played; take another copy of it.");
        var text = isJson ? ReplayJson.Write(result) : ReplayText.Write(result, path);
        ReportOutput.Write(Encoding.UTF8.GetBytes(text), parsed.GetValue(_out), () => ReplayText.Write(result, path));
        return result.Fault is not null ? ExitCodes.Invalid : result.FirstDifference is not null ? ExitCodes.Warnings : ExitCodes.AsPlanned;
    }

    private static (ReplayResult? Result, string? Fault) Play(string path)
    {
        try
        {
            return ReplayRun.Of(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {path}: cannot read this file: {(problem is FileNotFoundException or DirectoryNotFoundException ? "it is not there" : problem.Message)}");
        }
    }
}
