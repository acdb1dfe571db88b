using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>The time that a cue gives a desk to get to another plan.</summary>
public class SettlingTests
{
    private const string Cue = "cue";
    private static readonly TimeSpan Span = TimeSpan.FromSeconds(10);

    private static Vigil Settling(int count = 60)
    {
        var vigil = Vigil.OfMany(count);
        Settle(vigil, Enumerable.Range(0, count));
        for (var check = 0; check < count; check++)
            vigil.Drift(check);
        return vigil;
    }

    private static void Settle(Vigil vigil, IEnumerable<int> checks, double seconds = 10) => vigil.Ledger.Settle(Cue, "Ada", [.. checks], TimeSpan.FromSeconds(seconds), vigil.Now);

    [Fact]
    public void What_is_still_off_plan_when_the_time_ends_early_is_one_act()
    {
        var vigil = Settling();
        vigil.Wait(3);
        Assert.Equal(CommandOutcome.Done, vigil.Ledger.EndExpected(Cue, vigil.Now));
        vigil.Wait(2);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
    }

    [Fact]
    public void What_got_there_when_the_time_ends_early_was_never_off_plan_for_anybody()
    {
        var vigil = Settling(3);
        vigil.Wait(3);
        for (var check = 0; check < 3; check++)
            vigil.Match(check);
        vigil.Wait(0.5);
        vigil.Ledger.EndExpected(Cue, vigil.Now);
        vigil.Wait(600);
        Assert.Empty(vigil.Told());
    }

    [Fact]
    public void Another_time_keeps_what_is_on_its_way_and_lets_go_of_what_is_there()
    {
        var vigil = Settling(3);
        vigil.Wait(1);
        vigil.Match(2);
        vigil.Wait(5);
        Settle(vigil, [1]);
        vigil.Drift(2);
        vigil.Wait(9.9);
        Assert.Equal(["raised muted:input/0002"], vigil.Told());
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/0000", "raised muted:input/0001"], vigil.Told());
    }

    [Fact]
    public void Another_time_that_is_shorter_takes_none_away()
    {
        var vigil = Settling(3);
        vigil.Wait(1);
        Settle(vigil, [0], 2);
        vigil.Wait(8.9);
        Assert.Empty(vigil.Told());
        vigil.Wait(1);
        Assert.Equal(3, vigil.Told().Count);
    }

    [Fact]
    public void What_nobody_has_seen_since_keeps_its_time()
    {
        var vigil = Vigil.OfMany(2);
        Settle(vigil, [0, 1]);
        vigil.Gap();
        vigil.Wait(1);
        Settle(vigil, [1]);
        vigil.Becomes(0, Reading.Drift(Severity.Urgent));
        vigil.Read();
        vigil.Wait(9.9);
        Assert.Empty(vigil.Told());
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/0000"], vigil.Told());
    }

    [Fact]
    public void What_settles_when_a_clock_goes_back_over_a_restart_is_one_act_too()
    {
        var vigil = Settling();
        vigil.Wait(3);
        vigil.Restart(-1);
        vigil.Connect();
        vigil.Wait(2);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
    }

    [Fact]
    public void Many_thousands_of_checks_settle_as_a_few_do()
    {
        const int many = 20_000;
        var vigil = Settling(many);
        Assert.All(Enumerable.Range(0, many), check => Assert.Equal(Holds.Expected, vigil[check].Holds));
        vigil.Wait(Span.TotalSeconds + 2);
        Assert.Equal(["raised bulk-change:desk"], vigil.Told());
    }
}
