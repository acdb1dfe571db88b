using StateWatch.Core.Reports;
using StateWatch.Files;

namespace StateWatch.Commands;

/// <summary>Prints the faults of files to standard error.</summary>
internal static class DiagnosticsOutput
{
    public static void Print(FileSet files, bool noColour)
    {
        if (files.Diagnostics.Items.Count == 0)
            return;
        var colour = !noColour && !Console.IsErrorRedirected && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));
        Console.Error.Write(DiagnosticText.Write(files.Diagnostics, files.Source, colour));
    }

    public static int Refuse(FileSet files, bool noColour)
    {
        Print(files, noColour);
        return ExitCodes.Invalid;
    }
}
