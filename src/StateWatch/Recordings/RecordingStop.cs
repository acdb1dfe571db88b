using System.Globalization;

namespace StateWatch.Recordings;

/// <summary>Why a recording ends before its watch does, for people.</summary>
/// <param name="Why">What follows the path of the file in a sentence.</param>
/// <param name="Do">What to do.</param>
internal sealed record RecordingStop(string Why, string Do)
{
    private const string NextStart = "The next start begins a new recording.";

    /// <summary>It has the size that the user set.</summary>
    public static RecordingStop AsLargeAsAllowed(long most) => new(
        string.Create(CultureInfo.InvariantCulture, $"is as large as record:megabytes allows ({most / (1024 * 1024):N0} MB), so it ends here"),
        $"Nothing, if that is enough; else raise record:megabytes in the settings. {NextStart}");

    /// <summary>What is free on its disk is needed for the history.</summary>
    public static RecordingStop DiskTooFull(long free, long least) => new(
        string.Create(CultureInfo.InvariantCulture, $"ends here: {free / 1e6:N0} MB of its disk are free, and the last {least / 1e6:N0} MB are kept for the history and all else (history:freeMegabytes, and some more)"),
        $"Make room on the disk, or put record:folder on another one; record:files and record:megabytes say how much recordings may take. {NextStart}");

    /// <summary>Its disk is too slow for it.</summary>
    public static RecordingStop DiskTooSlow { get; } = new("is not recorded on: the disk takes less than comes in", $"Look at the disk and at record:folder in the settings. {NextStart}");

    /// <summary>It cannot be opened or written.</summary>
    public static RecordingStop Failed(Exception problem) => problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException
        ? new($"is not recorded on: {problem.Message}", $"Look at the disk and at record:folder in the settings. {NextStart}")
        : Faulty(problem);

    /// <summary>What is to be recorded cannot be written down, whatever the disk.</summary>
    public static RecordingStop Faulty(Exception problem) => new(
        $"is not recorded on: writing it down failed ({problem.GetType().Name}: {problem.Message})", $"That is a fault of the program; please report it. {NextStart}");
}
