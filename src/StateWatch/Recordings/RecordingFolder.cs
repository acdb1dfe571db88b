using System.Globalization;
using System.Text.RegularExpressions;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting.Settings;

namespace StateWatch.Recordings;

/// <summary>
/// The folder of recordings: a file for each desk and start, of which the oldest are removed. No watch fails because it cannot be recorded, and none waits
/// for it.
/// </summary>
/// <param name="folder">The folder.</param>
/// <param name="settings">How much is kept.</param>
/// <param name="reserveMegabytes">What the history leaves free on a disk, in MB; recordings leave somewhat more (<see cref="RecordingRoom.Margin"/>).</param>
/// <param name="self">Who is told when something is not recorded.</param>
/// <param name="clock">The time in names of files.</param>
/// <param name="freeBytes">What is free on the disk of a folder; null for what the system says.</param>
internal sealed class RecordingFolder(string folder, RecordSettings settings, int reserveMegabytes, ISelfReport self, TimeProvider clock, Func<string, long>? freeBytes = null)
{
    private const UnixFileMode OwnersOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Begins the recording of a desk; null when there can be none, which is told. Touches no disk: that is for the recording's own thread.</summary>
    public GuardedTape? Begin(RecordingHeader header)
    {
        var id = $"recording-failing:{DeskKey.NameOf(header.Desk)}";
        var path = folder;
        var target = new BackgroundTarget(Open, why => Tell(id, path, why));
        try
        {
            return new GuardedTape(target, new RecordingWriter(target, header));
        }
#pragma warning disable CA1031 // What a header cannot say is no reason not to watch.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            target.GiveUp(RecordingStop.Faulty(problem));
            target.Dispose();
            return null;
        }

        (RecordingStream?, RecordingStop?) Open()
        {
            Directory.CreateDirectory(folder);
            var name = header.Desk.Replace('/', '.');
            RemoveOldest(name);
            var room = new RecordingRoom(settings.Megabytes * 1024L * 1024, (reserveMegabytes * 1_000_000L) + RecordingRoom.Margin, () => (freeBytes ?? Retention.FreeBytes)(folder));
            if (room.Refuse(0, 0) is { } stop)
                return (null, stop);
            path = FreePath(name);
            var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, Share = FileShare.Read };
            if (!OperatingSystem.IsWindows())
                options.UnixCreateMode = OwnersOnly;
            var stream = new RecordingStream(new FileStream(path, options), room);
            self.Clear(id);
            return (stream, null);
        }
    }

    private void Tell(string id, string path, RecordingStop stop) => self.Report(id, Severity.Notice, new AlertWords("recording-failing", $"{path} {stop.Why}",
        "What the watch decides from now on cannot be played again. It watches and tells as before.", stop.Do));

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
