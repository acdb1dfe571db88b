using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Watching;

/// <summary>What goes wrong in the watch itself is a finding like any other.</summary>
public class SelfWatchTests
{
    private static readonly AlertWords Words = new("sink-not-delivering", "the light takes nothing", "Nobody sees what is found.", "Look at its network.");
    private readonly VirtualClock _clock = new(new DateTimeOffset(2026, 11, 25, 9, 0, 0, TimeSpan.Zero));
    private LedgerState? _state;
    private ShowStanding? _standing;

    [Fact]
    public void Fault_is_told_with_its_words_and_cleared()
    {
        var self = new SelfWatch("chapel", _clock, ["light"], null);
        self.Report("sink-not-delivering:light", Severity.Warning, Words);
        Wait(self, 2);
        self.Report("sink-not-delivering:light", Severity.Warning, Words);
        Wait(self, 2);
        self.Clear("sink-not-delivering:light");
        Wait(self, 2);
        var alerts = self.Take()!.Alerts;
        Assert.Equal([LevelKind.Raised, LevelKind.None], alerts.Select(static alert => alert.Told.Level.Kind));
        Assert.All(alerts, static alert => Assert.Equal(Words, alert.Words));
        Assert.Equal("chapel/statewatch/sink-not-delivering:light", alerts[0].Told.Key);
        Assert.Null(self.Take());
    }

    [Fact]
    public void Many_faults_at_once_are_no_bulk_change()
    {
        var self = new SelfWatch("chapel", _clock, ["light"], null);
        for (var number = 0; number < 30; number++)
            self.Report($"sink-not-delivering:{number}", Severity.Warning, Words);
        Wait(self, 5);
        Assert.Equal(30, self.Take()!.Alerts.Count(static alert => alert.Told.Level.Kind == LevelKind.Raised));
        Assert.Equal(30, self.Stands().Count);
    }

    [Fact]
    public void It_can_be_acknowledged_and_not_be_put_aside()
    {
        var self = new SelfWatch("chapel", _clock, ["light"], null);
        self.Report("history-not-written:findings", Severity.Urgent, Words);
        Wait(self, 2);
        Assert.False(self.Order(new HoldFindingOrder("history-not-written:findings", "Ada", "later", null, false)).IsDone);
        Assert.True(self.Order(new AcknowledgeOrder("history-not-written:findings", "Ada")).IsDone);
        Assert.Equal(LevelKind.Acknowledged, self.Take()!.Alerts[^1].Told.Level.Kind);
    }

    [Fact]
    public void What_is_not_reported_after_a_restart_is_cleared_under_the_next_number()
    {
        var again = Restarted();
        Wait(again, (int)SelfWatch.Grace.TotalSeconds - 1);
        Assert.Empty(again.Take()?.Alerts ?? []);
        Wait(again, 2);
        var alert = Assert.Single(again.Take()!.Alerts);
        Assert.Equal((LevelKind.None, 1, 2), (alert.Told.Level.Kind, alert.Told.Level.Episode, alert.Told.Level.Transition));
        Assert.Equal(Words, alert.Words);
    }

    [Fact]
    public void What_is_still_wrong_after_restarts_goes_on_and_is_not_told_again()
    {
        var again = Restarted();
        for (var start = 0; start < 6; start++)
        {
            Wait(again, 10);
            again.Report("sink-not-delivering:light", Severity.Warning, Words);
            Wait(again, 10);
            Assert.Empty(again.Take()?.Alerts ?? []);
            var stands = Assert.Single(again.Stands()).Record;
            Assert.Equal((LevelKind.Raised, 1, 0), (stands.Level.Kind, stands.Episode, stands.Relapses));
            again = new SelfWatch("chapel", _clock, ["light"], new StoredDesk(new LedgerRecord(_state! with { At = new Moment(_state.At.Clock, _clock.GetUtcNow()) }, [stands]), _standing!,
                new Dictionary<string, AlertWords>(StringComparer.Ordinal) { [stands.Key] = Words }));
        }
    }

    [Fact]
    public void What_is_said_to_be_over_after_a_restart_is_cleared_then()
    {
        var again = Restarted();
        Wait(again, 2);
        again.Clear("sink-not-delivering:light");
        Wait(again, 2);
        Assert.Equal(LevelKind.None, Assert.Single(again.Take()!.Alerts).Told.Level.Kind);
    }

    private SelfWatch Restarted()
    {
        var self = new SelfWatch("chapel", _clock, ["light"], null);
        self.Report("sink-not-delivering:light", Severity.Warning, Words);
        Wait(self, 2);
        var output = self.Take()!;
        (_state, _standing) = (output.Ledger, output.Standing);
        return new SelfWatch("chapel", _clock, ["light"], new StoredDesk(new LedgerRecord(output.Ledger, [.. output.Findings.Select(static finding => finding.Record)]), output.Standing,
            output.Findings.ToDictionary(static finding => finding.Record.Key, static finding => finding.Words!, StringComparer.Ordinal)));
    }

    private void Wait(SelfWatch self, int seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            _clock.AdvanceTo(_clock.GetTimestamp() + TimeSpan.TicksPerSecond);
            self.Tick();
        }
    }
}
