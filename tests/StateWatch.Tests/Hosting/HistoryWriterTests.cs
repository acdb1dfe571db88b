using Microsoft.Extensions.Logging.Abstractions;
using StateWatch.Hosting;
using StateWatch.Tests.Alerts;

namespace StateWatch.Tests.Hosting;

/// <summary>The writer stores what all desks have put down in one transaction; what it cannot store it keeps, and hands alerts on.</summary>
public sealed class HistoryWriterTests : IDisposable
{
    private readonly FakeReports _reports = new();
    private readonly RecordingHistory _history = new();
    private readonly HistoryWriter _writer;
    private readonly OutputSlot _house;
    private readonly OutputSlot _stage;
    private readonly List<string> _notRecorded = [];
    private readonly List<int> _stored = [];

    public HistoryWriterTests()
    {
        _writer = new HistoryWriter(_history, _reports, NullLogger.Instance, TimeProvider.System)
        {
            NotRecorded = alerts => _notRecorded.AddRange(alerts.Select(alert => alert.Told.Id)),
            Stored = outputs => _stored.Add(outputs.Count),
        };
        (_house, _stage) = (_writer.AddSlot("here/house"), _writer.AddSlot("here/stage"));
    }

    public void Dispose() => _writer.Dispose();

    [Fact]
    public void What_several_desks_have_put_down_is_one_transaction()
    {
        _house.Put(FakeTurns.Output(1));
        _stage.Put(FakeTurns.Output(2, "here/stage"));
        _writer.Store();
        _writer.Store();
        Assert.Equal(["here/house", "here/stage"], Assert.Single(_history.Commits).Select(output => output.Desk));
        Assert.Equal((1, 0), (_writer.Commits, _writer.Failures));
        Assert.Equal([2], _stored);
    }

    [Fact]
    public void What_cannot_be_stored_is_kept_and_stored_later_but_its_alerts_are_handed_on_at_once_and_once()
    {
        _history.Fails = true;
        var alert = Some.Alert("lamp", "here/house/drift:input/1/on", 1);
        _house.Put(FakeTurns.Output(1, "here/house", alert));
        _writer.Store();
        Assert.Equal([alert.Told.Id], _notRecorded);
        Assert.Equal([HistoryWriter.FindingId], _reports.Standing);
        Assert.Contains("the disk is full", _reports.Words(HistoryWriter.FindingId).Text, StringComparison.Ordinal);
        Assert.True(_writer.IsFailing);
        _house.Put(FakeTurns.Output(2));
        _writer.Store();
        Assert.Single(_notRecorded);

        _history.Fails = false;
        _house.Put(FakeTurns.Output(3));
        _writer.Store();
        var stored = Assert.Single(Assert.Single(_history.Commits));
        Assert.Equal(["1", "2", "3"], stored.Happenings.Select(happening => happening.Text));
        Assert.Empty(stored.Alerts);
        Assert.Empty(_reports.Standing);
        Assert.False(_writer.IsFailing);
    }

    [Fact]
    public void Desk_whose_memory_cannot_be_read_is_watched_as_new_and_that_is_told()
    {
        _history.Fails = true;
        Assert.Null(_writer.Load("here/house"));
        Assert.Equal(["history-failing:house"], _reports.Standing);
    }

    [Fact]
    public void Thread_stores_what_comes_and_the_last_of_it_when_it_ends()
    {
        _writer.Start();
        _house.Put(FakeTurns.Output(1));
        Assert.True(_history.Committed.Wait(FakeTurns.Ceiling, TestContext.Current.CancellationToken));
        _house.Put(FakeTurns.Output(2));
        Assert.True(_writer.Stop(FakeTurns.Ceiling));
        Assert.Equal(["1", "2"], _history.Commits.SelectMany(commit => commit).SelectMany(output => output.Happenings).Select(happening => happening.Text));
    }

    [Fact]
    public void Slot_joins_what_the_writer_has_not_taken_in_order()
    {
        for (var i = 1; i <= 3; i++)
            _house.Put(FakeTurns.Output(i));
        Assert.False(_house.IsFree);
        Assert.Equal(["1", "2", "3"], _house.Take()!.Happenings.Select(happening => happening.Text));
        Assert.True(_house.IsFree);
    }

    [Fact]
    public void Source_without_a_loop_is_asked_before_each_transaction()
    {
        _writer.AddSource(() => FakeTurns.Output(7, "here/statewatch"));
        _writer.Store();
        Assert.Equal("here/statewatch", Assert.Single(Assert.Single(_history.Commits)).Desk);
    }
}
