using Microsoft.Extensions.Time.Testing;
using StateWatch.Core.Links;
using StateWatch.Core.Watching;
using StateWatch.Hosting.Settings;
using StateWatch.Recordings;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Recordings;

/// <summary>Where watches are recorded while they run.</summary>
public sealed class RecordingFolderTests : IDisposable
{
    private static readonly RecordingHeader Header = new(RecordingHeader.CurrentFormat, "", "here/house", "192.0.2.10:9000", 1000, new RecordedPlan("", [new RecordedFile("a", ""), new RecordedFile("b", "")]), []);

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
        var folder = Folder("rec", new RecordSettings { Files = 2 });
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
        using (var tape = Folder(Path.Combine(_folder.Write("file", ""), "below"), new RecordSettings()).Begin(Header)!)
            Live(tape, 3);
        Assert.Equal([Failing], _reports.Standing);
        Assert.Contains("record:folder", _reports.Words(Failing).Do, StringComparison.Ordinal);
    }

    [Fact]
    public void Disk_that_takes_nothing_is_told_once_and_whoever_records_goes_on()
    {
        var told = new List<RecordingStop>();
        var target = new BackgroundTarget(static () => (new RecordingStream(new FullDisk()), null), told.Add);
        using (var tape = new GuardedTape(target, new RecordingWriter(target, Header)))
            Live(tape, 100);
        Assert.Contains("No space left on device", Assert.Single(told).Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Folder_is_opened_by_the_recordings_own_thread()
    {
        using var opened = new ManualResetEventSlim();
        var thread = Environment.CurrentManagedThreadId;
        var folder = Folder("rec", new RecordSettings(), _ =>
        {
            // Whoever begins a recording has it while the disk still hangs.
            opened.Wait(TimeSpan.FromSeconds(20));
            thread = Environment.CurrentManagedThreadId;
            return long.MaxValue;
        });
        using (var tape = folder.Begin(Header)!)
        {
            opened.Set();
            Live(tape, 3);
        }

        Assert.NotEqual(Environment.CurrentManagedThreadId, thread);
        Assert.Equal(3, Batches());
    }

    [Fact]
    public void Recording_is_not_begun_on_a_disk_of_which_the_history_needs_the_rest()
    {
        using (var tape = Folder("rec", new RecordSettings(), static _ => 550_000_000).Begin(Header)!)
            Live(tape, 3);
        Assert.Equal([Failing], _reports.Standing);
        Assert.Equal("ends here: 550 MB of its disk are free, and the last 600 MB are kept for the history and all else (history:freeMegabytes, and some more)", Said());
        Assert.Empty(Directory.GetFiles(_folder.PathOf("rec")));
    }

    [Fact]
    public void Recording_ends_before_the_disk_is_so_full_that_the_history_would_be_tidied()
    {
        var free = 610_000_000L;
        using (var tape = Folder("rec", new RecordSettings(), _ => free -= 5_000_000).Begin(Header)!)
            Live(tape, 200, 60_000);
        Assert.Contains("ends here: 600 MB of its disk are free", Said(), StringComparison.Ordinal);
        Assert.Contains("Make room", _reports.Words(Failing).Do, StringComparison.Ordinal);
        // Free space was looked at for the second time after 4 MB, and what was written until then can be read.
        Assert.InRange(new FileInfo(Assert.Single(Directory.GetFiles(_folder.PathOf("rec")))).Length, 3_900_000, 4_200_000);
        Assert.InRange(Batches(), 60, 70);
    }

    [Fact]
    public void Recording_that_is_as_large_as_the_user_said_does_not_blame_the_disk()
    {
        using (var tape = Folder("rec", new RecordSettings { Megabytes = 1 }).Begin(Header)!)
            Live(tape, 40, 60_000);
        Assert.Equal("is as large as record:megabytes allows (1 MB), so it ends here", Said());
        Assert.Contains("raise record:megabytes", _reports.Words(Failing).Do, StringComparison.Ordinal);
        Assert.DoesNotContain("disk", _reports.Words(Failing).Do, StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_written_down_ends_the_recording_and_not_the_watch()
    {
        using (var tape = Folder("rec", new RecordSettings()).Begin(Header)!)
        {
            Live(tape, 3);
            tape.Order(new StrangeOrder());
            Live(tape, 3);
        }

        Assert.Contains("writing it down failed (ArgumentOutOfRangeException", Said(), StringComparison.Ordinal);
        Assert.Contains("report it", _reports.Words(Failing).Do, StringComparison.Ordinal);
        Assert.InRange(Batches(), 0, 3);
    }

    [Fact]
    public void Once_nothing_is_recorded_any_more_nothing_is_worked_out_for_it()
    {
        var (counted, told) = (new CountingTape(), new List<RecordingStop>());
        var target = new BackgroundTarget(static () => (new RecordingStream(new MemoryStream()), null), told.Add);
        using (var tape = new GuardedTape(target, counted))
        {
            Live(tape, 3, 10);
            Assert.Equal(1 + 3 * 3, counted.Count);
            target.GiveUp(RecordingStop.DiskTooSlow);
            Live(tape, 3, 10);
            tape.Taken(null!);
            tape.WatchEnded(0, DateTimeOffset.UnixEpoch, "the test");
        }

        target.Dispose();
        Assert.Equal((10, 1), (counted.Count, told.Count));
    }

    private const string Failing = "recording-failing:house";

    private RecordingFolder Folder(string name, RecordSettings settings, Func<string, long>? free = null) => new(_folder.PathOf(name), settings, 500, _reports, _clock, free ?? (static _ => long.MaxValue));

    // What follows the path in what was told.
    private string Said() => _reports.Words(Failing).Text[(_reports.Words(Failing).Text.IndexOf(' ', StringComparison.Ordinal) + 1)..];

    private long Batches()
    {
        using var reader = RecordingReader.Open(File.OpenRead(Assert.Single(Directory.GetFiles(_folder.PathOf("rec")))));
        var batches = 0;
        while (reader.Next() is var step and not RecordedStep.End)
            batches += step == RecordedStep.Batch ? 1 : 0;
        Assert.Equal(RecordingEnd.Whole, reader.End);
        return batches;
    }

    private static void Live(GuardedTape tape, int batches, int bytes = 0)
    {
        var random = new Random(1);
        tape.WatchBegan(0, DateTimeOffset.UnixEpoch);
        for (var batch = 0; batch < batches; batch++)
        {
            tape.BatchBegan(batch * 3000, DateTimeOffset.UnixEpoch);
            if (bytes > 0)
            {
                var datagram = new byte[bytes];
                random.NextBytes(datagram);
                tape.Datagram(datagram, batch);
            }

            tape.BatchEnded(batch * 3000, DateTimeOffset.UnixEpoch);
        }
    }

    private sealed record StrangeOrder() : WatchOrder("nobody");

    private sealed class CountingTape : IWatchTape
    {
        public int Count { get; private set; }

        public void WatchBegan(long timestamp, DateTimeOffset wall) => Count++;

        public void BatchBegan(long timestamp, DateTimeOffset wall) => Count++;

        public void Order(WatchOrder order) => Count++;

        public void Datagram(ReadOnlySpan<byte> datagram, long receivedAt) => Count++;

        public void Counted(in LinkCounters counters) => Count++;

        public void BatchEnded(long timestamp, DateTimeOffset wall) => Count++;

        public void Taken(WatchOutput output) => Count++;

        public void WatchEnded(long timestamp, DateTimeOffset wall, string by) => Count++;
    }

    private sealed class FullDisk : MemoryStream
    {
        public override void Write(ReadOnlySpan<byte> buffer) => throw new IOException("No space left on device");

        public override void Write(byte[] buffer, int offset, int count) => throw new IOException("No space left on device");
    }
}
