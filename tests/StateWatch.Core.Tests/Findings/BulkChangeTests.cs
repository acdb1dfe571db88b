using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

public class BulkChangeTests
{
    [Theory]
    [InlineData(9, false)]
    [InlineData(10, true)]
    public void Ten_within_one_gather_are_one_act(int count, bool isBulk)
    {
        var vigil = Vigil.OfMany(400);
        for (var check = 0; check < count; check++)
            vigil.Drift(check);
        vigil.Wait(1);
        Assert.Equal(isBulk, vigil.Told() is ["raised bulk-change:desk"]);
    }

    // 5 % of 520 are 26; of 100 they are 5, and then 20 count. Nine in one gather are never ten.
    [Theory]
    [InlineData(520, 25, false)]
    [InlineData(520, 26, true)]
    [InlineData(100, 19, false)]
    [InlineData(100, 20, true)]
    public void Twenty_or_a_twentieth_within_two_seconds_are_one_act(int watched, int count, bool isBulk)
    {
        var vigil = Vigil.OfMany(watched, TimerClass.Continuous);
        for (var check = 0; check < count; check++)
        {
            vigil.Drift(check);
            if (check % 9 == 8)
                vigil.Wait(0.51);
        }

        vigil.Wait(10);
        Assert.Equal(isBulk, vigil.Told()[0] == "raised bulk-change:desk");
    }

    [Fact]
    public void A_recall_that_fades_for_ten_seconds_is_one_act()
    {
        var vigil = Vigil.OfMany(100);
        for (var check = 0; check < 60; check++)
        {
            vigil.Drift(check);
            if (check >= 12)
                vigil.Wait(0.25);
        }

        vigil.Wait(60);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        Assert.Equal(60, vigil.Ledger.Standing().Count(static finding => finding.Holds == Holds.Inhibited));
    }

    [Fact]
    public void It_closes_when_under_a_quarter_remain_and_tells_those_in_one_digest()
    {
        var vigil = Vigil.OfMany(40);
        for (var check = 0; check < 40; check++)
            vigil.Drift(check);
        vigil.Wait(10);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        for (var check = 0; check < 30; check++)
            vigil.Match(check);
        vigil.Wait(10);
        Assert.Empty(vigil.Told());
        vigil.Match(30);
        vigil.Wait(10);
        var told = vigil.Told();
        Assert.Equal("cleared bulk-change:desk", told[0]);
        Assert.Contains("raised muted:input/0039", told[1], StringComparison.Ordinal);
        Assert.Contains("passed 1 muted:input/0000", told[1], StringComparison.Ordinal);
        Assert.Equal(2, told.Count);
        vigil.Match(39);
        vigil.Wait(10);
        Assert.Equal(["cleared muted:input/0039"], vigil.Told());
    }

    [Fact]
    public void Those_already_told_fold_in_without_being_cleared()
    {
        var vigil = Vigil.OfMany(40);
        vigil.Drift(0);
        vigil.Wait(0.6);
        Assert.Equal(["raised muted:input/0000"], vigil.Told());
        for (var check = 1; check < 20; check++)
            vigil.Drift(check);
        vigil.Wait(5);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        Assert.Equal(Holds.Inhibited, vigil[0].Holds);
        for (var check = 0; check < 20; check++)
            vigil.Match(check);
        vigil.Wait(10);
        Assert.Contains("cleared muted:input/0000", vigil.Told()[1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_member_that_was_back_and_drifts_long_after_is_told_by_itself()
    {
        var vigil = Vigil.OfMany(40);
        for (var check = 0; check < 20; check++)
            vigil.Drift(check);
        vigil.Wait(5);
        vigil.Match(3);
        vigil.Wait(300);
        vigil.Told();
        vigil.Drift(3);
        vigil.Wait(1);
        Assert.Contains("raised muted:input/0003", vigil.Told());
    }

    [Fact]
    public void The_health_of_the_watch_itself_is_never_inhibited_nor_put_aside()
    {
        var vigil = Vigil.OfMany(40);
        for (var check = 0; check < 20; check++)
            vigil.Drift(check);
        vigil.Wait(5);
        vigil.Told();
        vigil.Ledger.LinkLost(vigil.Session, vigil.Now);
        vigil.Wait(0.3);
        Assert.Equal(["raised source-unreachable:desk"], vigil.Told());
        foreach (var key in (string[])["hall/desk/source-unreachable:desk", "hall/desk/bulk-change:desk", "hall/desk/incomplete-view:desk"])
        {
            Assert.Equal(Holds.None, vigil[key].Holds);
            Assert.Equal(CommandOutcome.Protected, vigil.Ledger.Shelve(key, "Ada", "why", null, false, vigil.Now));
            Assert.Equal(CommandOutcome.Protected, vigil.Ledger.TakeOutOfService(key, "Ada", "why", TimeSpan.FromHours(1), vigil.Now));
        }
    }

    [Fact]
    public void The_root_is_as_urgent_as_its_worst_member()
    {
        var vigil = Vigil.OfMany(40);
        for (var check = 0; check < 20; check++)
            vigil.Drift(check, check == 7 ? Severity.Urgent : Severity.Notice);
        vigil.Wait(5);
        Assert.Equal(Severity.Urgent, vigil["hall/desk/bulk-change:desk"].Severity);
    }

    [Fact]
    public void It_does_not_close_while_the_desk_is_not_seen()
    {
        var vigil = Vigil.OfMany(40, TimerClass.Continuous);
        for (var check = 0; check < 20; check++)
            vigil.Drift(check);
        vigil.Wait(0.6);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
        for (var check = 0; check < 18; check++)
            vigil.Match(check);
        vigil.Ledger.LinkLost(vigil.Session, vigil.Now);
        vigil.Wait(60);
        Assert.Equal(["raised source-unreachable:desk"], vigil.Told());
        vigil.Connect();
        vigil.Wait(10);
        Assert.Equal(["cleared bulk-change:desk", "raised muted:input/0018", "raised muted:input/0019", "cleared source-unreachable:desk"], vigil.Told());
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(60)]
    public void A_restart_in_the_middle_of_a_recall_makes_it_no_flood(double away)
    {
        var vigil = Vigil.OfMany(40);
        for (var check = 0; check < 20; check++)
            vigil.Drift(check);
        vigil.Wait(0.2);
        vigil.Restart(away);
        vigil.Connect();
        vigil.Wait(10);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
    }
}
