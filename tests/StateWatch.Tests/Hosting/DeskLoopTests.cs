using System.Collections.Concurrent;
using Microsoft.Extensions.Logging.Abstractions;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Hosting;
using StateWatch.Links;

namespace StateWatch.Tests.Hosting;

/// <summary>A loop turns one watch, never waits for storage, and begins anew after whatever fails in it.</summary>
public sealed class DeskLoopTests : IDisposable
{
    private static readonly TimeSpan[] NoPause = [TimeSpan.Zero];

    private readonly FakeReports _reports = new();
    private readonly BlockingCollection<FakeTurns> _opened = [];
    private readonly OutputSlot _slot = new("here/house", static () => { });
    private readonly StandingCopy _copy = new(null);
    private readonly List<DeskLoop> _loops = [];

    public void Dispose()
    {
        foreach (var loop in _loops)
        {
            loop.Stop("the test", TimeSpan.Zero);
            while (_opened.TryTake(out var turns))
                turns.LetGo(10);
        }
    }

    [Fact]
    public void Watch_that_throws_begins_anew_from_what_was_handed_over_and_is_told()
    {
        var loop = Start(stored => Opened(new FakeTurns(stored)));
        var first = Next();
        first.Give(FakeTurns.Output(1));
        first.LetGo();
        first.Doing = () =>
        {
            if (first.Turned < 2)
                return;
            // What came about in the turn that failed was never handed over.
            first.Give(FakeTurns.Output(2));
            throw new InvalidOperationException("a fault of ours");
        };
        first.LetGo();
        var second = Next();
        Assert.Equal(("1", TimeSpan.FromSeconds(1)), (second.Stored!.Standing.Plan, second.Stored.Ledger.Ledger.At.Clock));
        Assert.True(first.IsDisposed);
        Assert.Equal(["watch-failing:house"], _reports.Standing);
        second.LetGo(2);
        Eventually(() => _reports.Standing.Count == 0);
        Assert.True(loop.IsTurning);
    }

    [Fact]
    public void Rule_that_fails_is_told_for_its_desk_until_it_judges_again()
    {
        var reports = new LoopReports(_reports, NullLogger.Instance);
        reports.RuleFailed("here/house", "level-guard", new InvalidOperationException("a fault of ours"));
        Assert.Equal(["rule-failed:house/level-guard"], _reports.Standing);
        Assert.Contains("level-guard failed at here/house (InvalidOperationException)", _reports.Words("rule-failed:house/level-guard").Text, StringComparison.Ordinal);
        reports.RuleFailed("here/house", "level-guard", null);
        Assert.Empty(_reports.Standing);
    }

    [Fact]
    public void Link_that_cannot_be_opened_is_tried_again_and_told_with_what_to_do()
    {
        var tries = 0;
        Start(stored => ++tries < 3 ? throw new LinkException("cannot find the desk", "house.example:9000", "no address is known", "check the spelling") : Opened(new FakeTurns(stored)));
        Next().LetGo(2);
        Assert.Equal(3, tries);
        Assert.Equal(["link-not-opened:house", "link-not-opened:house"], _reports.Told);
        Eventually(() => _reports.Standing.Count == 0);
    }

    [Fact]
    public void Loop_that_could_not_begin_counts_as_having_come_round()
    {
        var loop = new DeskLoop(_slot, _copy, _ => throw new LinkException("cannot find the desk", "x:1", "no", "look"), Reports(), TimeProvider.System, [TimeSpan.FromMinutes(1)]);
        Assert.False(loop.HasTurned);
        loop.Start();
        Eventually(() => loop.HasTurned);
        Assert.False(loop.IsTurning);
        Assert.Equal("Look; it is tried again every 60 s.", _reports.Words("link-not-opened:house").Do);
        Assert.True(loop.Stop("the test", FakeTurns.Ceiling));
    }

    [Fact]
    public void Loop_that_waits_to_begin_anew_says_that_its_desk_is_lost_and_when_it_says_so()
    {
        var opened = 0;
        var loop = new DeskLoop(_slot, _copy, stored => opened++ == 0 ? Opened(new FakeTurns(stored)) : throw new LinkException("cannot find the desk", "x:1", "no", "look"), Reports(), TimeProvider.System, [TimeSpan.FromMinutes(1)]);
        _loops.Add(loop);
        loop.Start();
        var turns = Next();
        turns.LetGo();
        Eventually(() => loop.HasTurned);
        Assert.Equal(FollowPhase.Following, loop.StatusNow!.Following);
        turns.Doing = () => throw new InvalidOperationException("a fault of ours");
        turns.LetGo();
        Eventually(() => !loop.IsTurning);
        var stands = loop.StatusNow!;
        Assert.Equal((FollowPhase.Lost, 0, 40), (stands.Following, stands.Coverage.Verified, stands.Coverage.Planned));
        Assert.True(stands.At.Wall > loop.Status!.At.Wall);
        Assert.False(loop.IsCurrent);
    }

    [Fact]
    public void While_the_slot_is_taken_the_loop_turns_on_and_lets_the_watch_keep_what_comes()
    {
        Start(stored => Opened(new FakeTurns(stored)));
        var turns = Next();
        turns.Give(FakeTurns.Output(1));
        turns.Give(FakeTurns.Output(2));
        turns.LetGo(5);
        Eventually(() => turns.Turned == 5);
        Assert.Equal("1", Assert.Single(_slot.Take()!.Happenings).Text);
        turns.LetGo();
        Eventually(() => !_slot.IsFree);
        Assert.Equal("2", Assert.Single(_slot.Take()!.Happenings).Text);
    }

    [Fact]
    public async Task End_in_order_hands_over_the_last_of_the_journal_even_when_the_slot_is_taken()
    {
        var loop = Start(stored => Opened(new FakeTurns(stored)));
        var turns = Next();
        turns.Give(FakeTurns.Output(1));
        turns.LetGo();
        Eventually(() => !_slot.IsFree);
        var stopping = Task.Run(() => loop.Stop("SIGTERM", FakeTurns.Ceiling), TestContext.Current.CancellationToken);
        Eventually(() =>
        {
            turns.LetGo();
            return stopping.IsCompleted;
        });
        Assert.True(await stopping);
        Assert.Equal("SIGTERM", turns.EndedBy);
        Assert.Equal(["1", "99"], _slot.Take()!.Happenings.Select(happening => happening.Text));
    }

    [Fact]
    public void Another_watch_goes_on_from_where_the_one_before_stands()
    {
        var loop = Start(stored => Opened(new FakeTurns(stored)));
        var first = Next();
        loop.Use(stored => Opened(new FakeTurns(stored)), isAtOnce: true);
        first.LetGo(2);
        var second = Next();
        Assert.Equal(("exported", null, true), (second.Stored!.Standing.Show, first.EndedBy, first.IsDisposed));
        Assert.Empty(_reports.Standing);
    }

    [Fact]
    public void Watch_goes_on_from_what_is_stored_once_that_could_be_read()
    {
        _slot.BeginUnread();
        var loop = Start(stored => Opened(new FakeTurns(stored)));
        var first = Next();
        Assert.Null(first.Stored);
        first.Give(FakeTurns.Output(1));
        first.LetGo();
        var stored = new FakeTurns(null).Export();
        loop.Recall(stored with { Standing = stored.Standing with { Show = "remembered" } });
        first.LetGo();
        var second = Next();
        Assert.Equal(("remembered", null, true), (second.Stored!.Standing.Show, first.EndedBy, first.IsDisposed));
        Assert.Equal("remembered", _copy.Stored!.Standing.Show);
        second.Give(FakeTurns.Output(2));
        second.LetGo();
        Eventually(() => !_slot.IsFree);
        Assert.Equal(["1", "2"], _slot.Take()!.Happenings.Select(happening => happening.Text));
    }

    [Fact]
    public void Orders_given_while_a_watch_begins_anew_wait_for_it()
    {
        using var mayBegin = new ManualResetEventSlim();
        var loop = Start(stored =>
        {
            mayBegin.Wait();
            return Opened(new FakeTurns(stored));
        });
        loop.Order(new PhaseOrder(Phase.Show, "Kim"));
        mayBegin.Set();
        var turns = Next();
        turns.LetGo();
        Eventually(() => turns.Turned == 1);
        Assert.Equal(new PhaseOrder(Phase.Show, "Kim"), Assert.Single(turns.Orders));
    }

    private static void Eventually(Func<bool> holds) => Assert.True(SpinWait.SpinUntil(holds, FakeTurns.Ceiling), "it never came about");

    private DeskLoop Start(Func<StoredDesk?, IWatchTurns> open)
    {
        var loop = new DeskLoop(_slot, _copy, open, Reports(), TimeProvider.System, NoPause);
        _loops.Add(loop);
        loop.Start();
        return loop;
    }

    private LoopReports Reports() => new(_reports, NullLogger.Instance);

    private FakeTurns Opened(FakeTurns turns)
    {
        _opened.Add(turns);
        return turns;
    }

    private FakeTurns Next() => _opened.TryTake(out var turns, FakeTurns.Ceiling) ? turns : throw new TimeoutException("no watch was begun");
}
