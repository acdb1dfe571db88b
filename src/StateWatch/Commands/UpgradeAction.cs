using StateWatch.Core.Documents;
using StateWatch.Files;
using StateWatch.Upgrades;

namespace StateWatch.Commands;

/// <summary><c>check --upgrade FILE…</c>: brings files to the current format, or says that they are in it.</summary>
internal static class UpgradeAction
{
    public static int Run(IReadOnlyList<string> paths, IReadOnlyList<FormatStep> steps, IReadOnlyList<string> current, bool quiet, bool noColour)
    {
        var files = new FileSet();
        foreach (var path in paths)
        {
            if (files.Read(path) is not { } source || FormatUpgrade.Apply(source, steps, current, files.Diagnostics) is not { } text)
                continue;
            if (text != source.Text)
                Write(path, source, text);
            if (!quiet)
                Console.Out.WriteLine(text == source.Text ? $"{path}: already written in the current format." : $"{path}: brought to the current format.");
        }

        DiagnosticsOutput.Print(files, noColour);
        return files.Diagnostics.HasErrors ? ExitCodes.Invalid : ExitCodes.AsPlanned;
    }

    private static void Write(string path, SourceText source, string text)
    {
        try
        {
            var bytes = File.ReadAllBytes(path);
            if (SourceText.FromBytes(path, bytes, new DiagnosticBag())?.Text != source.Text || !FormatUpgrade.Replace(path, bytes, text))
                throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {path}: the file changed meanwhile, so nothing was written; try again.");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {path}: cannot write the new text: {problem.Message}");
        }
    }
}
