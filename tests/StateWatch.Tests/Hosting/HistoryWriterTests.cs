using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Core.Watching;
using StateWatch.Hosting;
using StateWatch.Tests.Alerts;

namespace StateWatch.Tests.Hosting;

/// <summary>The writer stores what all desks have put down in one transaction; what it cannot store it keeps, and hands alerts on.</summary>
public sealed class HistoryWriterTests : IDisposable
{
    private readonly FakeReports _reports = new();
    private readonly RecordingHistory _history = new();
    private readonly FakeTimeProvider _clock = new();
    private readonly HistoryWriter _writer;
    private readonly OutputSlot _house;
    private readonly OutputSlot _stage;
    private readonly List<string> _notRecorded = [];
    private readonly List<int> _stored = [];

    public HistoryWriterTests()
    {
        _writer = new HistoryWriter(_history, _reports, NullLogger.Instance, _clock)
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
    public void Desk_whose_memory_cannot_be_read_is_told_at_once_and_not_stored_until_it_can_be()
    {
        using var writer = Unread(out var slot, out var recalled);
        var alert = Some.Alert("lamp", "here/house/drift:input/1/on", 1);
        slot.Put(FakeTurns.Output(1, "here/house", alert));
        writer.Round();
        Assert.Empty(_history.Commits);
        Assert.Equal([alert.Told.Id], _notRecorded);
        Assert.Equal(["history-unread:house"], _reports.Standing);
        Assert.True(writer.IsFailing);

        _history.IsUnreadable = false;
        writer.Round(); // not tried again so soon
        Assert.Empty(recalled);
        _clock.Advance(TimeSpan.FromSeconds(10));
        writer.Round();
        Assert.Equal([null], recalled);
        Assert.Empty(_reports.Standing);
        Assert.False(writer.IsFailing);
        slot.Recall(null); // nothing is stored: its numbers are good
        slot.Put(FakeTurns.Output(2));
        writer.Round();
        Assert.Equal(["1", "2"], Assert.Single(Assert.Single(_history.Commits)).Happenings.Select(happening => happening.Text));
        Assert.Equal([alert.Told.Id], _notRecorded);
    }

    [Fact]
    public void What_a_desk_lived_through_before_it_was_remembered_overwrites_nothing_and_its_journal_goes_with_what_comes_next()
    {
        using var writer = Unread(out var slot, out _);
        slot.Put(FakeTurns.Output(1) with { Findings = [.. Some.Status().Standing] });
        writer.Round();
        var early = Some.Alert("lamp", "here/house/drift:input/1/on", 1);
        slot.Put(FakeTurns.Output(2, "here/house", early));
        slot.Recall(new FakeTurns(null).Export());
        writer.Round();
        Assert.Empty(_history.Commits); // its ledger has numbers of its own
        Assert.Equal([early.Told.Id], _notRecorded);
        slot.Put(FakeTurns.Output(3));
        writer.Round();
        var stored = Assert.Single(Assert.Single(_history.Commits));
        Assert.Equal(["1", "2", "3"], stored.Happenings.Select(happening => happening.Text));
        Assert.Empty(stored.Findings);
        Assert.Equal("3", stored.Standing.Plan);
    }

    [Fact]
    public void Start_waits_for_one_memory_that_cannot_be_read_and_not_for_each()
    {
        _history.IsUnreadable = true;
        foreach (var desk in (string[])["here/house", "here/stage", "here/statewatch"])
            Assert.Null(_writer.Memories.Load(desk));
        Assert.Equal(1, _history.Loads);
        Assert.Equal(["history-unread:house", "history-unread:stage", "history-unread:statewatch"], _reports.Standing);
    }

    [Fact]
    public void Commit_that_does_not_come_back_is_told_and_holds_up_no_alert()
    {
        using var hangs = new ManualResetEventSlim();
        _history.Hangs = hangs;
        var (first, second) = (Some.Alert("lamp", "here/house/drift:input/1/on", 1), Some.Alert("lamp", "here/house/drift:input/2/on", 1));
        _house.Put(FakeTurns.Output(1, "here/house", first));
        _writer.Start();
        Assert.True(_history.Waits.Wait(FakeTurns.Ceiling, TestContext.Current.CancellationToken));
        _writer.Look();
        Assert.Empty(_notRecorded);
        Assert.False(_writer.IsFailing);

        _clock.Advance(HistoryWriter.Patience);
        _writer.Look();
        Assert.Equal([first.Told.Id], _notRecorded);
        Assert.True(_writer.IsFailing);
        Assert.Contains("storing in memory has not come back for 5 s", _reports.Words(HistoryWriter.FindingId).Text, StringComparison.Ordinal);
        _house.Put(FakeTurns.Output(2, "here/house", second));
        _writer.Look();
        Assert.Equal([first.Told.Id, second.Told.Id], _notRecorded);
        Assert.True(_house.IsFree);

        _history.Hangs = null;
        hangs.Set();
        Assert.True(_writer.Stop(FakeTurns.Ceiling));
        Assert.Equal(["1", "2"], _history.Commits.SelectMany(commit => commit).SelectMany(output => output.Happenings).Select(happening => happening.Text));
        Assert.Equal(2, _notRecorded.Count);
        Assert.Empty(_reports.Standing);
        Assert.False(_writer.IsFailing);
    }

    [Fact]
    public void Whatever_goes_wrong_in_a_commit_what_was_to_be_stored_is_kept()
    {
        _history.Breaks = new InvalidOperationException("a fault of ours");
        var alert = Some.Alert("lamp", "here/house/drift:input/1/on", 1);
        _house.Put(FakeTurns.Output(1, "here/house", alert));
        _writer.Round();
        Assert.Equal([alert.Told.Id], _notRecorded);
        Assert.Contains("the program has a fault (InvalidOperationException)", _reports.Words(HistoryWriter.FindingId).Text, StringComparison.Ordinal);
        _clock.Advance(TimeSpan.FromSeconds(1));
        _writer.Round();
        Assert.Equal("1", Assert.Single(Assert.Single(_history.Commits).SelectMany(output => output.Happenings)).Text);
        Assert.Empty(_reports.Standing);
    }

    [Fact]
    public void Thread_survives_whatever_is_thrown_in_it()
    {
        var isThrown = false;
        _writer.AddSource("here/statewatch", () => isThrown ? null : (isThrown = true) is var _ ? throw new InvalidOperationException("a fault of ours") : null);
        _writer.Start();
        Assert.True(SpinWait.SpinUntil(() => Volatile.Read(ref isThrown), FakeTurns.Ceiling));
        _house.Put(FakeTurns.Output(1));
        Assert.True(_history.Committed.Wait(FakeTurns.Ceiling, TestContext.Current.CancellationToken));
        Assert.True(_writer.Stop(FakeTurns.Ceiling));
    }

    [Fact]
    public void While_it_fails_it_is_tried_after_longer_and_longer_pauses_and_alerts_wait_for_none_of_them()
    {
        _history.Fails = true;
        var tries = new List<long>();
        for (var second = 0; second < 30; second++)
        {
            var alert = Some.Alert("lamp", $"here/house/drift:input/{second}/on", 1);
            _house.Put(FakeTurns.Output(second, "here/house", alert));
            _writer.Round();
            Assert.Equal(second + 1, _notRecorded.Count);
            tries.Add(_writer.Failures);
            _clock.Advance(TimeSpan.FromSeconds(1));
        }

        Assert.Equal([0, 1, 3, 8, 18, 28], Enumerable.Range(1, 6).Select(count => tries.IndexOf(count)));
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
        _writer.AddSource("here/statewatch", () => FakeTurns.Output(7, "here/statewatch"));
        _writer.Store();
        Assert.Equal("here/statewatch", Assert.Single(Assert.Single(_history.Commits)).Desk);
    }

    private HistoryWriter Unread(out OutputSlot slot, out List<StoredDesk?> recalled)
    {
        _history.IsUnreadable = true;
        var writer = new HistoryWriter(_history, _reports, NullLogger.Instance, _clock) { NotRecorded = alerts => _notRecorded.AddRange(alerts.Select(alert => alert.Told.Id)) };
        Assert.Null(writer.Memories.Load("here/house"));
        slot = writer.AddSlot("here/house");
        var read = recalled = [];
        writer.Memories.WhenRead("here/house", read.Add);
        return writer;
    }
}
