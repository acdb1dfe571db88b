using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>What is removed when the history is too large or the disk too full, and what never is.</summary>
public sealed class RetentionTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(1000, 100, 600, 500, 1000)] // small, and room enough
    [InlineData(1000, 1500, 600, 500, 1000)] // too large
    [InlineData(1000, 800, 400, 500, 700)] // 100 MB more must be free
    [InlineData(1000, 50, 0, 500, 0)] // even without any history the disk is too full
    [InlineData(1000, 1500, 400, 500, 1000)] // both: the lesser
    public void Limits_follow_from_size_and_free_disk(int most, long size, long free, int least, long allowed) =>
        Assert.Equal(allowed * 1_000_000, Retention.Allowed(size * 1_000_000, free * 1_000_000, new HistoryOptions("x") { MostMegabytes = most, LeastFreeMegabytes = least }));

    [Fact]
    public void Too_large_a_history_loses_its_oldest_observations_first()
    {
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { MostMegabytes = 1, LeastFreeMegabytes = 0 }, TimeProvider.System);
        var story = Filled(history, 30_000);
        var told = history.Tidy(story.Now.Wall, true);
        Assert.Contains("oldest besides were removed, since the history was too large or the disk too full", told, StringComparison.Ordinal);
        Assert.True(Size() <= 1_000_000, told);
        using var read = HistoryFolder.Open(_folder.PathOf(""));
        var left = read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue);
        Assert.InRange(left.Count, 1, 25_000);
        Assert.Equal("input/1/fader", left[^1].Change.Setting); // the newest is there
        Assert.Equal(left[^1].Change.At, story.Now.Wall);
        Assert.NotEmpty(read.Events(null, DateTimeOffset.MaxValue));
        Assert.Equal(1, history.CountWaiting("light"));
    }

    [Fact]
    public void Full_disk_takes_everything_but_what_stands_and_what_waits()
    {
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { LeastFreeMegabytes = 500 }, TimeProvider.System, freeBytes: static _ => 0);
        var story = Filled(history, 2000);
        Assert.Contains("what is left stands, or waits for a sink, and is kept", history.Tidy(story.Now.Wall, true), StringComparison.Ordinal);
        using var read = HistoryFolder.Open(_folder.PathOf(""));
        Assert.Empty(read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue));
        Assert.Empty(read.ShowEvents(null, DateTimeOffset.MaxValue));
        Assert.All(read.Events(null, DateTimeOffset.MaxValue), line => Assert.Equal(story.KeyOf(0), line.Key));
        Assert.NotEmpty(read.Events(null, DateTimeOffset.MaxValue));
        Assert.Equal((1, 0), (history.CountWaiting("light"), history.CountWaiting("phone")));
        Assert.NotEmpty(history.Load("hall/desk")!.Ledger.Findings);
    }

    [Fact]
    public void Room_enough_removes_nothing()
    {
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { LeastFreeMegabytes = 500 }, TimeProvider.System, freeBytes: static _ => 501_000_000);
        var story = Filled(history, 2000);
        Assert.Contains("nothing had to be removed", history.Tidy(story.Now.Wall, true), StringComparison.Ordinal);
        using var read = HistoryFolder.Open(_folder.PathOf(""));
        Assert.Equal(2003, read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Count);
    }

    [Fact]
    public void Commits_go_on_while_it_tidies()
    {
        SqliteHistory history = null!;
        DeskStory story = null!;
        var isCommitted = false;
        // In the middle of tidying: what is old was removed, what is too much not yet.
        history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { MostMegabytes = 1, LeastFreeMegabytes = 1 }, TimeProvider.System, freeBytes: _ =>
        {
            var committing = Task.Run(() =>
            {
                story.Move("input/2/fader", "-10.0 dB", "-9.0 dB");
                story.Wait(1);
                history.Commit([story.Take()]);
            });
            isCommitted = committing.Wait(TimeSpan.FromSeconds(30));
            return long.MaxValue;
        });
        using (history)
        {
            story = Filled(history, 30_000);
            history.Tidy(story.Now.Wall, true);
            Assert.True(isCommitted);
            using var read = HistoryFolder.Open(_folder.PathOf(""));
            Assert.Contains(read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue), static one => one.Change.Setting == "input/2/fader");
        }
    }

    [Fact]
    public void Disk_of_which_nothing_is_known_is_a_fault_of_the_history() =>
        Assert.Contains("cannot be used", Assert.Throws<HistoryException>(() => Retention.FreeBytes(_folder.PathOf("not/there"))).Message, StringComparison.Ordinal);

    [Fact]
    public void Copies_count_and_the_oldest_go_before_anything_that_is_in_use()
    {
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { MostMegabytes = 1, LeastFreeMegabytes = 0 }, TimeProvider.System);
        var story = Filled(history, 2000);
        var copies = new[] { "findings.db.damaged-20261101-100000", "findings.db.form-1", "observations.db.damaged-20261120-100000" };
        for (var number = 0; number < copies.Length; number++)
        {
            var file = _folder.PathOf(copies[number]);
            File.WriteAllBytes(file, new byte[700_000]);
            File.SetLastWriteTimeUtc(file, story.Now.Wall.UtcDateTime - TimeSpan.FromDays(3 - number));
        }

        File.WriteAllBytes(_folder.PathOf("notes.db.damaged"), new byte[700_000]); // not ours
        var told = history.Tidy(story.Now.Wall, true);
        Assert.Contains("nothing had to be removed", told, StringComparison.Ordinal);
        Assert.Contains("; 2 older copies of damaged or earlier files went first", told, StringComparison.Ordinal);
        Assert.Equal([false, false, true, true], copies.Append("notes.db.damaged").Select(name => File.Exists(_folder.PathOf(name))));
    }

    [Fact]
    public void Disk_that_is_too_full_even_to_remove_something_gives_up_a_copy_first()
    {
        var copy = _folder.PathOf("findings.db.form-1");
        using var history = new SqliteHistory(new HistoryOptions(_folder.PathOf("")) { LeastFreeMegabytes = 0 }, TimeProvider.System, opened: _ =>
        {
            if (File.Exists(copy))
                throw new Microsoft.Data.Sqlite.SqliteException("database or disk is full", 13);
        });
        var story = Filled(history, 10);
        history.Dispose();
        File.WriteAllBytes(copy, new byte[1000]);
        Assert.Contains("rows older than 90 days were removed; it holds 0.1 MB; 1 older copy of damaged or earlier files went first", history.Tidy(story.Now.Wall + TimeSpan.FromDays(91), true), StringComparison.Ordinal);
        Assert.False(File.Exists(copy));
    }

    // One finding stands and waits for the light; another came and went; a fader was ridden.
    private static DeskStory Filled(SqliteHistory history, int moves)
    {
        var story = new DeskStory();
        story.Drift(0, Severity.Urgent);
        story.Drift(1);
        story.Wait(10);
        story.Match(1);
        story.Wait(100);
        story.Tell(ShowEventKind.PhaseBegan, "show");
        history.Commit([story.Take()]);
        history.Delivered("light", [.. history.Waiting("light", 10).Where(waiting => waiting.Alert.Told.Key != story.KeyOf(0)).Select(static waiting => waiting.Row)]);
        history.Delivered("phone", [.. history.Waiting("phone", 10).Select(static waiting => waiting.Row)]);
        for (var move = 0; move < moves; move++)
        {
            story.Wait(0.5);
            story.Move("input/1/fader", "-10.0 dB", "-9.0 dB");
            if (move % 1000 == 999)
                history.Commit([story.Take()]);
        }

        history.Commit([story.Take()]);
        return story;
    }

    private long Size() => new DirectoryInfo(_folder.PathOf("")).GetFiles("*.db*").Sum(static file => file.Length);
}
