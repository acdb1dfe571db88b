using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

public class FlappingTests
{
    // Raises every `period` seconds, and back in between.
    private static void Flap(Vigil vigil, int times, double period, Severity severity = Severity.Urgent)
    {
        for (var time = 0; time < times; time++)
        {
            vigil.Drift(severity: severity);
            vigil.Wait(1);
            vigil.Match();
            vigil.Wait(period - 1);
        }
    }

    // One each period T settles at 1 / (1 - 2^(-T/120)): 4.0 at T = 49.8 s (geometric series), so 45 s is caught in time and 55 s never is.
    [Theory]
    [InlineData(45, true)]
    [InlineData(55, false)]
    public void Relapses_faster_than_about_one_in_fifty_seconds_are_damped(double period, bool isDamped)
    {
        var vigil = new Vigil();
        Flap(vigil, 40, period);
        Assert.Equal(isDamped, vigil.Told().Contains("unstable muted:input/1"));
    }

    [Fact]
    public void It_is_called_unstable_once_and_then_each_minute_while_urgent_and_unknown_to_anybody()
    {
        var vigil = new Vigil();
        Flap(vigil, 5, 5);
        Assert.Equal("unstable muted:input/1", vigil.Told()[^1]);
        Flap(vigil, 24, 5);
        Assert.Equal(Enumerable.Repeat("unstable muted:input/1", 2), vigil.Told());
        vigil.Drift();
        vigil.Wait(1);
        vigil.Ledger.Acknowledge(Vigil.Mute, "Ada", vigil.Now);
        Flap(vigil, 24, 5);
        Assert.Empty(vigil.Told());
    }

    [Fact]
    public void A_warning_is_called_unstable_only_once()
    {
        var vigil = new Vigil();
        Flap(vigil, 60, 5, Severity.Warning);
        Assert.Single(vigil.Told(), "unstable muted:input/1");
    }

    [Fact]
    public void It_is_released_when_calm_with_what_is_true_then()
    {
        var vigil = new Vigil();
        Flap(vigil, 5, 5);
        vigil.Told();
        var restless = vigil[0].Restlessness;
        // From r it falls to one after 120 s times the binary logarithm of r.
        var calm = vigil[0].RestlessAt + TimeSpan.FromSeconds(120 * Math.Log2(restless));
        while (vigil[0].Holds == Holds.Damped)
            vigil.Wait(0.5);
        Assert.InRange((vigil.Now.Clock - calm).TotalSeconds, 0, 1);
        Assert.Contains("cleared muted:input/1", vigil.Told());
    }

    [Fact]
    public void After_a_quarter_of_an_hour_the_truth_is_told_whatever_happens()
    {
        var vigil = new Vigil();
        while (vigil[0].Holds != Holds.Damped)
            DriftAndBack(vigil);
        var damped = vigil[0].DampedAt;
        vigil.Told();
        for (var time = 0; time < 500 && !vigil.Told().Contains("raised muted:input/1"); time++)
            DriftAndBack(vigil);
        Assert.InRange((vigil.Now.Clock - damped).TotalSeconds, 900, 903);
    }

    private static void DriftAndBack(Vigil vigil)
    {
        vigil.Drift();
        vigil.Wait(1);
        vigil.Match();
        vigil.Wait(1);
    }
}
