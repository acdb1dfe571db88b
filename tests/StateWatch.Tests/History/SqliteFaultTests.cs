using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>Whatever happens to the files: nothing crashes, nothing is lost silently, and the next commit tries again.</summary>
public sealed class SqliteFaultTests : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 11, 29, 10, 15, 0, TimeSpan.Zero));

    private string Findings => _folder.PathOf(SqliteHistory.FindingsFile);

    private string Observations => _folder.PathOf(SqliteHistory.ObservationsFile);

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Full_disk_is_told_and_the_next_commit_tries_again()
    {
        SqliteConnection? opened = null;
        using var history = Open(connection => opened ??= connection);
        var story = Committed(history);
        using (var pragma = opened!.CreateCommand())
        {
            pragma.CommandText = "PRAGMA max_page_count = 1"; // no more than it has
            pragma.ExecuteNonQuery();
        }

        var output = Big(story);
        var problem = Assert.Throws<HistoryException>(() => history.Commit([output]));
        Assert.Contains($"The history {Findings} cannot be used: the disk is full. Free space on this disk", problem.Message, StringComparison.Ordinal);
        history.Commit([output]); // another connection: there is room again
        Assert.Equal(200, history.CountWaiting("light"));
        Assert.All(history.Waiting("light", 200), waiting => Assert.Equal(_clock.GetUtcNow(), waiting.RecordedAt));
    }

    [Fact]
    public void Nothing_of_a_commit_that_fails_is_kept()
    {
        var limit = false;
        using var history = Open(connection =>
        {
            if (!limit)
                return;
            using var pragma = connection.CreateCommand();
            pragma.CommandText = "PRAGMA max_page_count = 40";
            pragma.ExecuteNonQuery();
        });
        var story = Committed(history);
        var before = history.Load("hall/desk")!;
        history.Dispose();
        limit = true;
        Assert.Throws<HistoryException>(() => history.Commit([Big(story)]));
        SameRecords.Assert(before, history.Load("hall/desk"));
        Assert.Equal(0, history.CountWaiting("light"));
    }

    [Fact]
    public void Database_that_may_only_be_read_is_told_and_can_still_be_loaded()
    {
        var isReadOnly = false;
        using var history = Open(connection =>
        {
            using var pragma = connection.CreateCommand();
            pragma.CommandText = $"PRAGMA query_only = {(isReadOnly ? 1 : 0)}";
            pragma.ExecuteNonQuery();
        });
        var story = Committed(history);
        history.Dispose();
        isReadOnly = true;
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        var output = story.Take();
        var problem = Assert.Throws<HistoryException>(() => history.Commit([output]));
        Assert.Contains("it may only be read. Check who owns the folder", problem.Message, StringComparison.Ordinal);
        Assert.NotNull(history.Load("hall/desk"));
        isReadOnly = false;
        history.Dispose();
        history.Commit([output]);
        Assert.Equal(1, history.CountWaiting("light"));
    }

    [Fact]
    public void Disk_that_takes_nothing_can_still_be_loaded_from()
    {
        var isRefused = false;
        using var history = Open(_ =>
        {
            if (isRefused)
                throw new SqliteException("attempt to write a readonly database", 8);
        });
        Committed(history);
        history.Dispose();
        isRefused = true;
        Assert.NotNull(history.Load("hall/desk"));
        Assert.Null(history.Load("hall/other"));
        Assert.Throws<HistoryException>(() => history.CountWaiting("light"));
    }

    [Fact]
    public void Second_watch_in_the_same_folder_is_refused_while_the_first_runs()
    {
        using var second = Open();
        using (var first = Open())
        {
            var story = Committed(first);
            foreach (var use in (Action[])[() => second.Load("hall/desk"), () => second.Commit([story.Take()])])
                Assert.Contains($"Another watch keeps its history in {_folder.PathOf("").TrimEnd('/')}", Assert.Throws<HistoryException>(use).Message, StringComparison.Ordinal);
            using var reader = HistoryFolder.Open(_folder.PathOf(""));
            Assert.NotEmpty(reader.Desks());
        }

        Assert.NotNull(second.Load("hall/desk"));
    }

    [Fact]
    public void File_that_somebody_else_has_locked_is_told_and_the_next_commit_tries_again()
    {
        using var history = Open();
        var story = Committed(history);
        story.Drift(0);
        story.Wait(10);
        var output = story.Take();
        using (var other = Connect(Findings))
        {
            Run(other, "BEGIN IMMEDIATE");
            var problem = Assert.Throws<HistoryException>(() => history.Commit([output]));
            Assert.Contains("another program holds it locked. Close whatever has it open", problem.Message, StringComparison.Ordinal);
        }

        history.Commit([output]);
        Assert.Equal(1, history.CountWaiting("light"));
    }

    [Fact]
    public void Folder_that_cannot_be_made_is_told()
    {
        var file = _folder.Write("file", "");
        using var history = new SqliteHistory(new HistoryOptions(Path.Combine(file, "history")), _clock);
        Assert.Contains(Path.Combine(file, "history"), Assert.Throws<HistoryException>(() => history.Load("hall/desk")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Changes_that_cannot_be_stored_are_a_notice_and_findings_are_stored_all_the_same()
    {
        using var history = Open();
        var story = Committed(history);
        story.Drift(0);
        story.Wait(10);
        using (var other = Connect(Observations))
        {
            Run(other, "BEGIN IMMEDIATE");
            history.Commit([story.Take()]);
            story.Move("input/1/fader", "-9.0 dB", "-8.0 dB");
            history.Commit([story.Take()]); // not tried again at once
        }

        Assert.Equal(1, history.CountWaiting("light"));
        Assert.Contains("Changes of settings are not recorded; findings are.", Assert.Single(history.TakeNotices()), StringComparison.Ordinal);
        Assert.Empty(history.TakeNotices());
        _clock.Advance(TimeSpan.FromSeconds(5));
        story.Move("input/1/fader", "-8.0 dB", "-7.0 dB");
        history.Commit([story.Take()]);
        Assert.Equal("Changes of settings are recorded again; 2 were lost.", Assert.Single(history.TakeNotices()));
        using var read = HistoryFolder.Open(_folder.PathOf(""));
        Assert.Equal(["-9.0 dB", "-7.0 dB"], read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Select(static one => one.Change.After));
    }

    [Fact]
    public void File_that_is_no_database_is_moved_aside_and_a_new_one_is_begun()
    {
        File.WriteAllText(Findings, new string('x', 5000));
        using var history = Open();
        Assert.Null(history.Load("hall/desk"));
        var notice = Assert.Single(history.TakeNotices());
        Assert.Contains($"The history {Findings} was damaged", notice, StringComparison.Ordinal);
        Assert.Contains($"It is kept as {Findings}.damaged-20261129-101500, and a new one was begun.", notice, StringComparison.Ordinal);
        Assert.Equal(new string('x', 5000), File.ReadAllText($"{Findings}.damaged-20261129-101500"));
        Committed(history);
        Assert.NotNull(history.Load("hall/desk"));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void Damaged_pages_are_found_and_what_can_be_read_is_saved(int seed)
    {
        int waiting;
        using (var history = Open())
        {
            var story = Committed(history);
            history.Commit([Big(story)]);
            waiting = history.CountWaiting("light");
        }

        var bytes = File.ReadAllBytes(Findings);
        var random = new Random(seed);
        for (var page = 0; page < 3; page++)
            random.NextBytes(bytes.AsSpan((1 + random.Next((bytes.Length / 4096) - 1)) * 4096, 4096));
        File.WriteAllBytes(Findings, bytes);

        using var again = Open();
        var stored = again.Load("hall/desk");
        var left = again.CountWaiting("light");
        var notice = Assert.Single(again.TakeNotices());
        Assert.Contains("was damaged", notice, StringComparison.Ordinal);
        Assert.Contains("Saved from it:", notice, StringComparison.Ordinal);
        Assert.InRange(left, 0, waiting);
        Assert.True(File.Exists($"{Findings}.damaged-20261129-101500"));
        Committed(again);
        Assert.NotNull(again.Load("hall/desk"));
        TestContext.Current.TestOutputHelper!.WriteLine($"seed {seed}: {left} of {waiting} alerts and {stored?.Ledger.Findings.Count ?? 0} findings saved");
    }

    [Fact]
    public void File_is_looked_through_once_and_not_whenever_it_is_opened_anew_after_a_fault()
    {
        using (var first = Open())
            Committed(first);
        var looks = 0;
        using var history = Open(connection => SQLitePCL.raw.sqlite3_trace(connection.Handle, (_, statement) => looks += statement.Contains("quick_check", StringComparison.Ordinal) ? 1 : 0, null));
        for (var opening = 0; opening < 3; opening++)
        {
            Assert.NotNull(history.Load("hall/desk"));
            history.Dispose(); // as after a fault
        }

        Assert.Equal(1, looks);
    }

    [Fact]
    public void File_of_a_newer_program_is_refused_and_left_alone()
    {
        using (var old = Open())
            Committed(old);
        SetPragma("user_version", 99);
        var before = File.ReadAllBytes(Findings);
        using var history = Open();
        var problem = Assert.Throws<HistoryException>(() => history.Load("hall/desk"));
        Assert.Contains("was written by a newer statewatch (form 99; this one knows up to", problem.Message, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Findings));
    }

    [Fact]
    public void Database_of_another_program_is_refused_and_left_alone()
    {
        using (var other = new SqliteConnection($"Data Source={Findings};Pooling=False"))
        {
            other.Open();
            Run(other, "CREATE TABLE guest (name text)");
        }

        using var history = Open();
        Assert.Contains("is a database of another program. Keep the history in another folder", Assert.Throws<HistoryException>(() => history.Load("hall/desk")).Message, StringComparison.Ordinal);
        using var again = Connect(Findings);
        Run(again, "INSERT INTO guest VALUES ('Ada')");
    }

    [Fact]
    public void Options_that_make_no_sense_are_refused()
    {
        foreach (var options in (HistoryOptions[])[new(""), new("x") { KeepDays = 0 }, new("x") { MostMegabytes = 0 }, new("x") { LeastFreeMegabytes = -1 }])
            Assert.Contains("; write ", Assert.Throws<HistoryException>(() => new SqliteHistory(options, _clock).Dispose()).Message, StringComparison.Ordinal);
    }

    private SqliteHistory Open(Action<SqliteConnection>? opened = null) =>
        new(new HistoryOptions(_folder.PathOf("")) { LeastFreeMegabytes = 0 }, _clock, opened: opened);

    private static DeskStory Committed(SqliteHistory history)
    {
        var story = new DeskStory(checks: 200);
        story.Move("input/1/fader", "-10.0 dB", "-9.0 dB");
        history.Commit([story.Take()]);
        return story;
    }

    // 200 findings raised one after another, so that they are no bulk change.
    private static WatchOutput Big(DeskStory story)
    {
        for (var check = 0; check < 200; check++)
        {
            story.Drift(check);
            story.Wait(5);
        }

        return story.Take();
    }

    private static SqliteConnection Connect(string path)
    {
        var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        return connection;
    }

    private void SetPragma(string name, int value)
    {
        using var connection = Connect(Findings);
        Run(connection, $"PRAGMA {name} = {value}");
        Run(connection, "PRAGMA wal_checkpoint(TRUNCATE)");
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Written in this file.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }
}
