using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Desks.Following;
using StateWatch.Core.Tests.Simulation;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Auditing.Live;

/// <summary>Findings that follow a virtual desk by themselves.</summary>
public class FollowedAuditTests(ITestOutputHelper output)
{
    [Fact]
    public void Finding_comes_with_the_change_and_goes_with_it()
    {
        using var followed = new Pair(FollowedDesk.LarchDesk());
        followed.Desk.RunUntilFollowing();
        Assert.Empty(followed.Ids());
        followed.Desk.Desk.Set("desk/oscillator", "on");
        var seconds = followed.Desk.RunUntil(() => followed.Raised.Count > 0, 0.1);
        output.WriteLine($"raised after {seconds * 1000:0.00} ms");
        Assert.Equal(["oscillator-on:desk/oscillator"], followed.Ids());
        followed.Desk.Desk.Set("desk/oscillator", "off");
        followed.Desk.RunUntil(() => followed.Cleared.Count > 0, 0.1);
        Assert.Empty(followed.Ids());
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void After_quiet_the_findings_are_those_of_a_fresh_sweep_whatever_the_wire_did(int number)
    {
        var seed = (ulong)(TestSeed.Value + number);
        using var followed = new Pair(FollowedDesk.LarchDesk(), FollowedDesk.Lossy, seed);
        followed.Desk.RunUntilFollowing();
        var numbers = new SeededNumbers(seed);
        var incidents = DemoShow.Incidents.Incidents;
        for (var i = 0; i < 12; i++)
        {
            followed.Desk.Desk.Apply(incidents[numbers.NextBelow(incidents.Count)]);
            if (i == 6)
                followed.Desk.Desk.Silent = true;
            followed.Desk.Run(i == 6 ? 5 : 0.5);
            followed.Desk.Desk.Silent = false;
        }

        followed.Desk.Run(35);
        Assert.Equal(2, followed.Desk.Follower.Session);
        using var link = new MemoryDeskReader(followed.Desk.Desk);
        var fresh = new DeskState(DemoShow.Profile);
        _ = new FullRead(DemoShow.Profile, fresh, link, Enumerable.Range(0, fresh.Count)).Run(cancel: TestContext.Current.CancellationToken);
        var expected = DemoShow.Findings(fresh, Phase.Show).Select(finding => finding.Id).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(expected);
        Assert.Equal(expected, followed.Ids());
        output.WriteLine($"{expected.Count} findings, {followed.Judged} judgements in {followed.Desk.Follower.Batch.Number} batches");
    }

    [Fact]
    public void Lost_desk_leaves_nothing_that_is_told_or_called_right()
    {
        using var followed = new Pair(FollowedDesk.LarchDesk());
        followed.Desk.RunUntilFollowing();
        followed.Desk.Desk.Set("desk/oscillator", "on");
        followed.Desk.Run(1);
        followed.Desk.Desk.Silent = true;
        followed.Desk.RunUntil(() => followed.Desk.Follower.Phase == FollowPhase.Lost, 4);
        Assert.True(followed.Audit.WasJudged);
        var check = Enumerable.Range(0, followed.Audit.Audit.Count).Single(check => followed.Audit.Audit.RuleOf(check).Id == "oscillator-on");
        Assert.Equal((Verdict.CannotTell, Severity.Silent), (followed.Audit.Audit.VerdictOf(check), followed.Audit.Audit.SeverityOf(check)));
        Assert.Equal([], Enumerable.Range(0, followed.Audit.Audit.Count).Where(check => followed.Audit.Audit.VerdictOf(check) == Verdict.Kept));
        var judged = followed.Judged;
        followed.Desk.Run(20);
        Assert.Equal(judged, followed.Judged);
        // It comes back: not judged by halves, but once when it was begun and once when it was read.
        followed.Desk.Desk.Silent = false;
        followed.Desk.RunUntilFollowing();
        Assert.InRange(followed.Judged - judged, 1, 2);
        Assert.Equal(["oscillator-on:desk/oscillator"], followed.Ids());
    }

    [Fact]
    public void Other_desk_is_not_judged()
    {
        using var followed = new Pair(FollowedDesk.LarchDesk());
        followed.Desk.RunUntilFollowing();
        followed.Desk.Desk.IdentityAnswer = ["birch", "1.0"];
        followed.Desk.RunUntil(() => followed.Desk.Follower.Phase == FollowPhase.Lost, 2);
        followed.Desk.Desk.Set("desk/oscillator", "on");
        followed.Desk.Run(10);
        Assert.Empty(followed.Ids());
    }

    /// <summary>A desk and its findings in the show phase.</summary>
    private sealed class Pair : IDisposable
    {
        public Pair(VirtualDesk desk, WireFaults? faults = null, ulong seed = 1)
        {
            Desk = new FollowedDesk(desk, faults, seed) { NextInstead = Next };
            Audit = new FollowedAudit(Desk.Follower, new LiveAudit(DemoShow.Plan(Phase.Show)));
        }

        public FollowedDesk Desk { get; }

        public FollowedAudit Audit { get; }

        public int Judged { get; private set; }

        public List<int> Raised { get; } = [];

        public List<int> Cleared { get; } = [];

        public IEnumerable<string> Ids() => Audit.Audit.Result().Findings.Select(finding => finding.Id).Order(StringComparer.Ordinal);

        public void Dispose() => Desk.Dispose();

        private void Next(long deadline)
        {
            Audit.Next(deadline);
            if (!Audit.WasJudged)
                return;
            Judged++;
            foreach (var check in Audit.Audit.Reports)
                (Audit.Audit.SeverityOf(check) == Severity.Silent ? Cleared : Raised).Add(check);
        }
    }
}
