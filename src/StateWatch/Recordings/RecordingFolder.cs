using System.Globalization;
using System.Text.RegularExpressions;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.Hosting.Settings;

namespace StateWatch.Recordings;

/// <summary>The folder of recordings: a file for each desk and start, of which the oldest are removed. No watch fails because it cannot be recorded.</summary>
/// <param name="folder">The folder.</param>
/// <param name="settings">How much is kept.</param>
/// <param name="self">Who is told when something is not recorded.</param>
/// <param name="clock">The time in names of files.</param>
internal sealed class RecordingFolder(string folder, RecordSettings settings, ISelfReport self, TimeProvider clock)
{
    private const UnixFileMode OwnersOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Begins the recording of a desk; null when there can be none, which is told.</summary>
    public RecordingWriter? Begin(RecordingHeader header)
    {
        var id = $"recording-failing:{header.Desk[(header.Desk.IndexOf('/', StringComparison.Ordinal) + 1)..]}";
        try
        {
            Directory.CreateDirectory(folder);
            var name = header.Desk.Replace('/', '.');
            RemoveOldest(name);
            var path = FreePath(name);
            var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, Share = FileShare.Read };
            if (!OperatingSystem.IsWindows())
                options.UnixCreateMode = OwnersOnly;
            var stream = new RecordingStream(new FileStream(path, options), settings.Megabytes * 1024L * 1024);
            self.Clear(id);
            return new RecordingWriter(new BackgroundTarget(stream, why => Tell(id, path, why)), header);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            Tell(id, folder, problem.Message);
            return null;
        }
    }

    private void Tell(string id, string path, string why) => self.Report(id, Severity.Notice, new AlertWords("recording-failing", $"{path} is not recorded on: {why}",
        "What the watch decides from now on cannot be played again. It watches and tells as before.", "Look at the disk and at record: in the settings; the next start begins a new recording."));

    private string FreePath(string name)
    {
        var start = Path.Combine(folder, $"{name}.{clock.GetUtcNow().ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture)}");
        var path = $"{start}.rec";
        for (var number = 2; File.Exists(path); number++)
            path = $"{start}-{number}.rec";
        return path;
    }

    // Only what this program has named so.
    private void RemoveOldest(string name)
    {
        var own = new Regex($@"^{Regex.Escape(name)}\.[0-9]{{8}}T[0-9]{{6}}Z(-[0-9]{{1,9}})?\.rec$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1));
        var files = new DirectoryInfo(folder).EnumerateFiles("*.rec").Where(file => own.IsMatch(file.Name)).OrderBy(static file => file.LastWriteTimeUtc).ThenBy(static file => file.Name, StringComparer.Ordinal).ToList();
        foreach (var file in files.Take(Math.Max(0, files.Count - settings.Files + 1)))
            file.Delete();
    }
}
