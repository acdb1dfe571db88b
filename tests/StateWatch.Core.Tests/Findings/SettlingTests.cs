namespace StateWatch.Core.Tests.Findings;

/// <summary>The time that a cue gives to its settings, when another one follows.</summary>
public class SettlingTests
{
    [Fact]
    public void Cue_that_follows_one_that_has_got_there_has_its_own_time_only()
    {
        var vigil = Vigil.OfMany(2);
        vigil.Ledger.Settle("cue", "Ada", [0], TimeSpan.FromSeconds(60), vigil.Now);
        vigil.Wait(10);
        vigil.Ledger.Settle("cue", "Ada", [1], TimeSpan.FromSeconds(5), vigil.Now);
        vigil.Drift(1);
        vigil.Wait(4.9);
        Assert.Empty(vigil.Told());
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/0001"], vigil.Told());
    }

    [Fact]
    public void What_is_on_its_way_to_the_cue_before_keeps_its_time()
    {
        var vigil = Vigil.OfMany(2);
        vigil.Ledger.Settle("cue", "Ada", [0], TimeSpan.FromSeconds(60), vigil.Now);
        vigil.Drift(0);
        vigil.Wait(10);
        vigil.Ledger.Settle("cue", "Ada", [1], TimeSpan.FromSeconds(5), vigil.Now);
        vigil.Wait(49.9);
        Assert.Empty(vigil.Told());
        vigil.Wait(1);
        Assert.Equal(["raised muted:input/0000"], vigil.Told());
    }
}
