using Microsoft.Extensions.Time.Testing;
using StateWatch.Hosting.Settings;
using StateWatch.Recordings;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Recordings;

/// <summary>Where watches are recorded while they run.</summary>
public sealed class RecordingFolderTests : IDisposable
{
    private static readonly RecordingHeader Header = new(RecordingHeader.CurrentFormat, "", "here/house", "192.0.2.10:9000", 1000, new RecordedPlan("", []), []);

    private readonly ScratchFolder _folder = new();
    private readonly FakeReports _reports = new();
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 12, 6, 9, 40, 0, TimeSpan.Zero));

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Each_start_has_a_file_and_the_oldest_of_the_desk_go()
    {
        Directory.CreateDirectory(_folder.PathOf("rec"));
        foreach (var other in (string[])["here.house.rec", "here.houses.20261206T094000Z.rec", "notes.txt"])
            _folder.Write($"rec/{other}", "somebody else's");
        var folder = new RecordingFolder(_folder.PathOf("rec"), new RecordSettings { Files = 2 }, _reports, _clock);
        for (var start = 0; start < 4; start++)
        {
            folder.Begin(Header)!.Dispose();
            // Two starts in one second have names of their own.
            _clock.Advance(TimeSpan.FromSeconds(start == 2 ? 0 : 5));
            foreach (var file in new DirectoryInfo(_folder.PathOf("rec")).GetFiles("here.house.2*"))
                file.LastWriteTimeUtc = file.LastWriteTimeUtc.AddMinutes(-1);
        }

        Assert.Equal(["here.house.20261206T094010Z-2.rec", "here.house.20261206T094010Z.rec", "here.house.rec", "here.houses.20261206T094000Z.rec", "notes.txt"],
            Directory.GetFiles(_folder.PathOf("rec")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Empty(_reports.Standing);
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(_folder.PathOf("rec/here.house.20261206T094010Z.rec")));
    }

    [Fact]
    public void Folder_that_cannot_be_is_told_and_the_watch_goes_on_unrecorded()
    {
        var folder = new RecordingFolder(Path.Combine(_folder.Write("file", ""), "below"), new RecordSettings(), _reports, _clock);
        Assert.Null(folder.Begin(Header));
        Assert.Equal(["recording-failing:house"], _reports.Standing);
    }

    [Fact]
    public void Disk_that_takes_nothing_is_told_once_and_whoever_records_goes_on()
    {
        var told = new List<string>();
        using (var writer = new RecordingWriter(new BackgroundTarget(new RecordingStream(new FullDisk()), told.Add), Header))
        {
            for (var second = 0; second < 1000; second++)
            {
                writer.BatchBegan(second * 3000, DateTimeOffset.UnixEpoch);
                writer.BatchEnded(second * 3000, DateTimeOffset.UnixEpoch);
            }
        }

        Assert.Single(told);
    }

    private sealed class FullDisk : MemoryStream
    {
        public override void Write(ReadOnlySpan<byte> buffer) => throw new IOException("No space left on device");

        public override void Write(byte[] buffer, int offset, int count) => throw new IOException("No space left on device");
    }
}
