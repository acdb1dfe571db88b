using System.Text;
using StateWatch.Core.Reports;

namespace StateWatch.Commands;

/// <summary>Writes a sweep's report in the wanted form to standard output or a file.</summary>
internal static class ReportOutput
{
    public static void Write(SweepResult result, string format, string voice, string? path, bool colour)
    {
        var text = format == "json" ? SweepJson.Write(result)
            : format == "junit" ? SweepJunit.Write(result)
            : voice == "volunteer" ? VolunteerText.Write(result, colour && path is null)
            : EngineerText.Write(result, colour && path is null);
        if (path is null)
        {
            using var standard = Console.OpenStandardOutput();
            standard.Write(Encoding.UTF8.GetBytes(text));
            return;
        }

        try
        {
            File.WriteAllText(path, text);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            // The verdict must not be lost with the file.
            Console.Error.WriteLine(EngineerText.Write(result, colour: false));
            throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {path}: cannot write the report: {problem.Message}");
        }
    }
}
