using System.Text;
using StateWatch.Core.Reports;

namespace StateWatch.Commands;

/// <summary>Writes reports to standard output or a file.</summary>
internal static class ReportOutput
{
    /// <summary>Writes a sweep's report in the wanted form.</summary>
    public static void Write(SweepResult result, string format, string voice, string? path, bool colour)
    {
        var text = format == "json" ? SweepJson.Write(result)
            : format == "junit" ? SweepJunit.Write(result)
            : voice == "volunteer" ? VolunteerText.Write(result, colour && path is null)
            : EngineerText.Write(result, colour && path is null);
        Write(Encoding.UTF8.GetBytes(text), path, () => EngineerText.Write(result, colour: false));
    }

    /// <summary>Writes a report to standard output or a file.</summary>
    /// <param name="report">The report.</param>
    /// <param name="path">The file, or null for standard output.</param>
    /// <param name="inWords">The report as text, for standard error when the file cannot be written.</param>
    public static void Write(byte[] report, string? path, Func<string> inWords)
    {
        if (path is null)
        {
            using var standard = Console.OpenStandardOutput();
            standard.Write(report);
            return;
        }

        try
        {
            File.WriteAllBytes(path, report);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            // The verdict must not be lost with the file.
            Console.Error.WriteLine(inWords());
            throw new CommandException(ExitCodes.CannotWrite, $"statewatch: {path}: cannot write the report: {problem.Message}");
        }
    }
}
