using System.Text.Json;
using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Tests.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>The history as a user asks it: a process over a folder that a watch has written, or is writing.</summary>
public sealed class HistoryCommandTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    private string Folder => _folder.PathOf("history");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Without_options_it_tells_of_the_last_show_also_while_a_watch_writes()
    {
        using var history = Written();
        var (exitCode, output, errors) = await Run();
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.StartsWith("Midwinter, all desks: Sun 2026-11-29 ", output, StringComparison.Ordinal);
        Assert.Contains("(20 min)", output, StringComparison.Ordinal);
        foreach (var text in (string[])["FINDINGS: 1, 1 urgent", "input/1 is muted (2 min", "acknowledged by Ada", "CHANGES: 2 settings on 2 strips", "COVERAGE", "ALARM LOAD: 1 alarm in 20 min"])
            Assert.Contains(text, output, StringComparison.Ordinal);
        history.Commit([]);
    }

    [Fact]
    public async Task Json_tells_the_same_and_names_its_format()
    {
        Written().Dispose();
        var (exitCode, output, errors) = await Run("desk", "--what", "findings", "--format", "json");
        Assert.Equal((0, ""), (exitCode, errors));
        using var json = JsonDocument.Parse(output);
        Assert.Equal(("statewatch/history/1", "hall/desk"), (json.RootElement.GetProperty("schema").GetString(), json.RootElement.GetProperty("desk").GetString()));
        var finding = Assert.Single(json.RootElement.GetProperty("findings").EnumerateArray());
        Assert.Equal(("hall/desk/drift:input/1/on", "urgent", "Ada", 121.7),
            (finding.GetProperty("key").GetString(), finding.GetProperty("severity").GetString(), finding.GetProperty("acknowledgedBy").GetString(), finding.GetProperty("seconds").GetDouble()));
    }

    [Theory]
    [InlineData("findings", "desk,key,episode,", "hall/desk,hall/desk/drift:input/1/on,1,urgent,2026-11-29T09:15:00.300Z,2026-11-29T09:17:02.000Z,recovered,121.7,Ada,")]
    [InlineData("changes", "desk,strip,name,", "hall/desk,input/1,Voice 1,input/1/on,yes,2,")]
    [InlineData("coverage", "desk,from,to,", "hall/desk,2026-11-29T09:10:00.000Z,")]
    [InlineData("load", "figure,text,value,", "peak-10-min,most alarms in any 10 minutes,1,")]
    [InlineData("shows", "desk,show,began,", "hall/desk,Midwinter,2026-11-29T09:10:00.000Z,2026-11-29T09:30:00.000Z,yes,1200,1,1,1,")]
    public async Task Each_part_is_a_table(string what, string heading, string line)
    {
        Written().Dispose();
        var path = _folder.PathOf("table.csv");
        var (exitCode, output, errors) = await Run("--what", what, "--format", "csv", "--out", path);
        Assert.Equal((0, "", ""), (exitCode, output, errors));
        var lines = await File.ReadAllLinesAsync(path, TestContext.Current.CancellationToken);
        Assert.StartsWith(heading, lines[0], StringComparison.Ordinal);
        Assert.Contains(lines, other => other.StartsWith(line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Times_choose_what_is_told()
    {
        Written().Dispose();
        var (_, output, _) = await Run("--what", "changes", "--from", "2026-11-29T09:16:00Z", "--to", "2026-11-29T09:20:00Z");
        Assert.Contains("CHANGES: 1 setting on 1 strip", output, StringComparison.Ordinal);
        (_, output, _) = await Run("--what", "changes", "--from", "2020-01-01", "--to", "2020-01-02");
        Assert.Contains("CHANGES: 0 settings", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Day_without_a_show_tells_the_last_day_of_the_record()
    {
        var story = new DeskStory { Phase = Phase.Build };
        using (var history = new SqliteHistory(new HistoryOptions(Folder), TimeProvider.System))
        {
            story.Tell(ShowEventKind.WatchBegan, "Midwinter");
            story.Drift(0, Severity.Notice);
            story.Wait(60);
            story.See(10, 10, 0);
            history.Commit([story.Take()]);
        }

        var (exitCode, output, _) = await Run();
        Assert.Equal(0, exitCode);
        Assert.StartsWith("all desks: no show is recorded, so this is the last day of the record, ", output, StringComparison.Ordinal);
        Assert.Contains("input/1 is muted (stands for", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task History_in_which_nothing_happened_yet_is_told_too()
    {
        using (var history = new SqliteHistory(new HistoryOptions(Folder), TimeProvider.System))
            history.Load("hall/desk");
        foreach (var what in (string[])["summary", "findings", "changes", "coverage", "load", "shows"])
        {
            var (exitCode, output, errors) = await Run("--what", what);
            Assert.Equal((0, ""), (exitCode, errors));
            Assert.NotEmpty(output);
        }
    }

    [Theory]
    [InlineData("'yesterday' is no time for --from; write 2026-11-29", "--from", "yesterday")]
    [InlineData("--from is not before --to", "--from", "2026-11-29", "--to", "2026-11-28")]
    [InlineData("'finding' is not a value of --what; write summary, findings, changes, coverage, load or shows. Did you mean 'findings'?", "--what", "finding")]
    [InlineData("'xml' is not a value of --format; write text, json or csv", "--format", "xml")]
    [InlineData("csv holds one table; add --what", "--format", "csv")]
    [InlineData("nothing is recorded of a desk 'dsk'; did you mean 'desk'? Recorded: hall/desk.", "dsk")]
    [InlineData("there is no option '--fom'; did you mean '--from'?", "--fom")]
    public async Task Usage_faults_give_exit_64_and_say_what_to_write(string text, params string[] arguments)
    {
        Written().Dispose();
        var (exitCode, output, errors) = await Run(arguments);
        Assert.Equal((64, ""), (exitCode, output));
        Assert.Contains(text, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Folder_without_a_history_gives_exit_66()
    {
        var (exitCode, _, errors) = await Run();
        Assert.Equal(66, exitCode);
        Assert.Contains($"there is no history in {Folder}: no watch has written there yet, or this user may not see it (sudo). Give another folder with --folder", errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Folder));
    }

    [Fact]
    public async Task Files_that_are_no_history_give_exit_66()
    {
        Directory.CreateDirectory(Folder);
        await File.WriteAllTextAsync(Path.Combine(Folder, "findings.db"), new string('x', 9000), TestContext.Current.CancellationToken);
        var (exitCode, _, errors) = await Run();
        Assert.Equal(66, exitCode);
        Assert.Contains("cannot be read", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Report_that_cannot_be_written_gives_exit_73_and_is_not_lost()
    {
        Written().Dispose();
        var (exitCode, _, errors) = await Run("--out", _folder.PathOf("nowhere/x.txt"));
        Assert.Equal(73, exitCode);
        Assert.Contains("input/1 is muted", errors, StringComparison.Ordinal);
    }

    private Task<(int ExitCode, string Output, string Errors)> Run(params string[] arguments) => StatewatchProcess.Run(["history", .. arguments, "--folder", Folder]);

    // Doors at 09:00 UTC, show from 09:10 to 09:30; a voice muted at 09:15 for two minutes.
    private SqliteHistory Written()
    {
        var history = new SqliteHistory(new HistoryOptions(Folder), TimeProvider.System);
        var story = new DeskStory { Phase = Phase.Doors };
        story.Tell(ShowEventKind.WatchBegan, "Midwinter");
        Watch(600);
        story.Phase = Phase.Show;
        story.Tell(ShowEventKind.PhaseBegan, "show", "schedule");
        Watch(300);
        story.Drift(0, Severity.Urgent);
        Watch(30);
        story.Ledger.Acknowledge(story.KeyOf(0), "Ada", story.Now);
        story.Move("input/9/fader", "-10.0 dB", "-5.0 dB");
        Watch(90);
        story.Match(0);
        Watch(780);
        story.Phase = Phase.Build;
        story.Tell(ShowEventKind.PhaseBegan, "build", "schedule");
        Watch(60);
        story.Tell(ShowEventKind.WatchEnded, "Midwinter", "systemd");
        history.Commit([story.Take()]);
        return history;

        void Watch(int seconds)
        {
            history.Commit([story.Take()]);
            for (var second = 0; second < seconds; second += 30)
            {
                story.Wait(30);
                if (story.Now.Wall.Second == 0)
                    story.See(100, 100, 0);
            }

            history.Commit([story.Take()]);
        }
    }
}
