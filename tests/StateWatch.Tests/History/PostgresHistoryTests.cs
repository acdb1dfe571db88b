using StateWatch.Core.Auditing;
using StateWatch.History;

namespace StateWatch.Tests.History;

/// <summary>The contract over a real PostgreSQL server.</summary>
public sealed class PostgresHistoryTests : WatchHistoryContract, IClassFixture<PostgresServer>
{
    private readonly string _connection;

    public PostgresHistoryTests(PostgresServer server)
    {
        Assert.SkipWhen(server.Missing is not null, server.Missing ?? "");
        _connection = server.NewDatabase();
    }

    [Fact]
    public void Sites_share_a_server_and_send_their_own()
    {
        using var hall = Open();
        using var tent = Open("tent");
        foreach (var (history, desk) in new[] { (hall, "hall/desk"), (tent, "tent/desk") })
        {
            var story = new DeskStory(desk);
            story.Drift(0, Severity.Urgent);
            story.Wait(10);
            history.Commit([story.Take()]);
        }

        Assert.Equal("hall/desk", Assert.Single(hall.Waiting("light", 10)).Alert.Told.Key[..9]);
        Assert.Equal("tent/desk", Assert.Single(tent.Waiting("light", 10)).Alert.Told.Key[..9]);
        Assert.Equal(1, tent.CountWaiting("light"));
        hall.Delivered("light", [hall.Waiting("light", 10)[0].Row]);
        Assert.Equal((0, 1), (hall.CountWaiting("light"), tent.CountWaiting("light")));
        hall.Tidy(DeskStory.Morning + TimeSpan.FromDays(500), true);
        using var read = Read();
        Assert.NotEmpty(read.Events("tent/desk", DateTimeOffset.MaxValue));
    }

    [Fact]
    public void Server_that_is_not_there_is_told_without_its_password()
    {
        using var history = new PostgresHistory("Host=127.0.0.1;Port=1;Database=d;Username=u;Password=secret;Timeout=2", "hall", new HistoryOptions("-"), TimeProvider.System);
        var problem = Assert.Throws<HistoryException>(() => history.Load("hall/desk"));
        Assert.Contains("The history at 127.0.0.1:1/d cannot be used: it does not answer. Check that the server runs", problem.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Connection_that_broke_is_made_anew_with_the_next_commit()
    {
        using var history = Open();
        var story = new DeskStory();
        history.Commit([story.Take()]);
        EndConnections();
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        var output = story.Take();
        Assert.Throws<HistoryException>(() => history.Commit([output]));
        history.Commit([output]);
        Assert.Equal(1, history.CountWaiting("light"));
    }

    [Fact]
    public void Commit_whose_answer_was_lost_is_not_stored_twice()
    {
        using var history = Open();
        var story = new DeskStory();
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        story.Tell(Core.Watching.ShowEventKind.CueBegan, "once");
        var output = story.Take();
        var doubt = new PostgresDoubt();
        using var session = new PostgresSession(Connect());
        history.Load("hall/desk");
        session.Begin();
        doubt.Mark(session, "hall");
        FindingTables.Write(session, output, DateTimeOffset.UnixEpoch);
        doubt.Begin([output]);
        session.Commit(); // and the answer is lost: nobody calls End
        var more = story.Take() with { Events = [.. output.Events, new Core.Findings.LedgerEvent(story.Now, story.KeyOf(0), 1, Core.Findings.LedgerEventKind.Recovering)], Happenings = output.Happenings, Alerts = output.Alerts };
        var left = Assert.Single(doubt.Resolve(session, [more]));
        Assert.Equal((1, 0, 0), (left.Events.Count, left.Happenings.Count, left.Alerts.Count));

        // The connection breaks again before this one is stored: what is known to be stored is not stored by the third try.
        session.Begin();
        doubt.Mark(session, "hall");
        doubt.Begin([left]);
        session.Rollback();
        left = Assert.Single(doubt.Resolve(session, [more]));
        Assert.Equal((1, 0, 0), (left.Events.Count, left.Happenings.Count, left.Alerts.Count));
        // And before the server was asked at all.
        Assert.Single(Assert.Single(doubt.Resolve(session, [more])).Events);

        doubt.End();
        Assert.Same(more, Assert.Single(doubt.Resolve(session, [more])));
    }

    [Fact]
    public void Second_watch_of_a_site_is_refused_while_the_first_is_connected()
    {
        using var second = Open();
        using (var first = Open())
        {
            first.Load("hall/desk");
            var problem = Assert.Throws<HistoryException>(() => second.Commit([new DeskStory().Take()]));
            Assert.Contains("Another watch of the site hall keeps its history at", problem.Message, StringComparison.Ordinal);
            using var other = Open("tent");
            other.Load("tent/desk");
        }

        second.Commit([new DeskStory().Take()]);
    }

    [Theory]
    [InlineData("", 3)]
    [InlineData(";Timeout=20", 20)]
    public void Server_is_not_waited_for_longer_than_a_moment_unless_that_is_written(string written, int seconds)
    {
        using var place = new PostgresServerPlace("Host=192.0.2.1;Username=u" + written);
        Assert.Equal(seconds, place.ConnectTimeout);
    }

    [Fact]
    public void Tables_of_a_newer_program_are_refused()
    {
        using (var history = Open())
            history.Load("hall/desk");
        using (var connection = Connect())
        {
            using var command = connection.CreateCommand();
            command.CommandText = "UPDATE statewatch.statewatch_form SET form = 99";
            command.ExecuteNonQuery();
        }

        using var again = Open();
        Assert.Contains("was written by a newer statewatch (form 99; this one knows up to", Assert.Throws<HistoryException>(() => again.Load("hall/desk")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Verb_reads_it_from_the_server()
    {
        using var history = Open();
        var story = new DeskStory();
        story.Tell(Core.Watching.ShowEventKind.WatchBegan);
        story.Drift(0, Severity.Urgent);
        story.Wait(60);
        history.Commit([story.Take()]);
        using var folder = new Support.ScratchFolder();
        var (exitCode, output, errors) = await Support.StatewatchProcess.Run("history", "desk", "--what", "findings", "--connection-file", folder.Write("connection", _connection));
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains("input/1 is muted (stands for", output, StringComparison.Ordinal);
        (exitCode, _, errors) = await Support.StatewatchProcess.Run("history", "--connection-file", folder.Write("connection", "Host=127.0.0.1;Port=1;Username=u;Password=secret;Timeout=2"));
        Assert.Equal(66, exitCode);
        Assert.Contains("it does not answer", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Database_without_a_history_cannot_be_read_and_stays_as_it_is()
    {
        Assert.Contains("there is no history yet", Assert.Throws<HistoryException>(() => HistoryServer.Open(_connection).Dispose()).Message, StringComparison.Ordinal);
        using var connection = Connect();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT COUNT(*) FROM pg_tables WHERE schemaname NOT IN ('pg_catalog', 'information_schema')";
        Assert.Equal(0L, command.ExecuteScalar());
    }

    [Fact]
    public void Connection_string_that_makes_no_sense_is_refused()
    {
        var problem = Assert.Throws<HistoryException>(() => new PostgresHistory("Hots=db", "hall", new HistoryOptions("-"), TimeProvider.System).Dispose());
        Assert.Contains("Write it like 'Host=db.example;Database=statewatch;Username=watch'", problem.Message, StringComparison.Ordinal);
    }

    private protected override IWatchHistory Open() => Open("hall");

    private protected override HistoryReader Read() => HistoryServer.Open(_connection);

    private protected override void Run(string sql)
    {
        using var connection = Connect();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Written in the tests.
        command.CommandText = sql;
#pragma warning restore CA2100
        Assert.True(command.ExecuteNonQuery() > 0);
    }

    private PostgresHistory Open(string site) => new(_connection, site, new HistoryOptions("-") { KeepDays = 90 }, TimeProvider.System);

    private Npgsql.NpgsqlConnection Connect()
    {
        var connection = new Npgsql.NpgsqlConnection(_connection + ";Search Path=statewatch");
        connection.Open();
        return connection;
    }

    private void EndConnections()
    {
        using var connection = Connect();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()";
        command.ExecuteNonQuery();
    }
}
