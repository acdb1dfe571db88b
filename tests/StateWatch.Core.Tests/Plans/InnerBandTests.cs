using StateWatch.Core.Plans;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Near the edge of a tolerance and beyond it, worked out by hand: gain in steps of 3 dB, faders in steps of 0.5 dB from -60 to 10.</summary>
public class InnerBandTests
{
    [Theory]
    // 30 dB within 6 dB allows 24 to 36; 80 % are 25.2 to 34.8, of which the desk has 27 to 33: that is a step narrower too.
    [InlineData("gain: 30 dB within 6 dB", "socket/stage-1/gain", "24 dB", true, false)]
    [InlineData("gain: 30 dB within 6 dB", "socket/stage-1/gain", "27 dB", true, true)]
    [InlineData("gain: 30 dB within 6 dB", "socket/stage-1/gain", "33 dB", true, true)]
    [InlineData("gain: 30 dB within 6 dB", "socket/stage-1/gain", "36 dB", true, false)]
    // A step is all there is: only the planned one is inside.
    [InlineData("gain: 30 dB within 3 dB", "socket/stage-1/gain", "27 dB", true, false)]
    [InlineData("gain: 30 dB within 3 dB", "socket/stage-1/gain", "30 dB", true, true)]
    [InlineData("gain: 30 dB within 3 dB", "socket/stage-1/gain", "39 dB", false, false, 2)]
    [InlineData("gain: 30 dB within 3 dB", "socket/stage-1/gain", "36 dB", false, false, 1)]
    [InlineData("fader: -10 dB within 2 dB", "input/1/fader", "-11.5 dB", true, true)]
    [InlineData("fader: -10 dB within 2 dB", "input/1/fader", "-12 dB", true, false)]
    [InlineData("fader: -10 dB within 2 dB", "input/1/fader", "-13.5 dB", false, false, 0)]
    [InlineData("fader: -10 dB within 2 dB", "input/1/fader", "-14 dB", false, false, 1)]
    [InlineData("fader: -10 dB within 2 dB", "input/1/fader", "-inf dB", false, false, 99)]
    // The end of the fader: nothing lies beyond it, so the top is inside.
    [InlineData("fader: 10 dB within 2 dB", "input/1/fader", "10 dB", true, true)]
    // Without a tolerance a decibel stands for one.
    [InlineData("fader: -10 dB", "input/1/fader", "-10 dB", true, true)]
    [InlineData("fader: -10 dB", "input/1/fader", "-13.5 dB", false, false, 2)]
    [InlineData("fader: -inf dB", "input/1/fader", "-inf dB", true, true)]
    public void Only_well_inside_the_tolerance_is_a_drift_over(string planned, string path, string live, bool isAllowed, bool isInside, int band = 0)
    {
        var plan = Written.Plan($"inputs: {{ 1: {{ from: stage 1, {planned} }} }}");
        var setting = plan.Profile.Settings[plan.Profile.Find(path)];
        Assert.True(setting.Codec.TryParse(live, out var value, out var problem), problem);
        var expectation = plan.For(setting.Id)!;
        Assert.Equal(isAllowed, expectation.Allows(value));
        if (isAllowed)
            Assert.Equal(isInside, expectation.IsWellInside(value));
        else
            Assert.Equal(band, expectation.BandOf(value));
    }

    [Fact]
    public void Every_planned_value_of_every_show_lies_well_inside_its_own_tolerance_and_the_band_a_step_inside_what_is_allowed()
    {
        var (inside, outer) = (0, 0);
        foreach (var row in ShippedShow.All)
        {
            var plan = ShippedShow.Of(row.Data).Plan(Phase.Show, null);
            foreach (var expectation in plan.Expectations)
            {
                Assert.True(expectation.IsWellInside(expectation.Planned));
                Assert.True(expectation.BandOf(expectation.Planned) == 0);
                var setting = plan.Profile.Settings[expectation.Setting];
                if (setting.Codec is not ScaleCodec { Steps: > 0 } scale || expectation.Low.Step < 0)
                    continue;
                for (var step = 0; step < scale.Steps; step++)
                {
                    var (isAllowed, isInside) = (expectation.Allows(scale.ValueAtStep(step)), expectation.IsWellInside(scale.ValueAtStep(step)));
                    outer += isAllowed && !isInside ? 1 : 0;
                    if (!isInside)
                        continue;
                    inside++;
                    Assert.True(isAllowed, $"{setting.Path}: step {step} is inside and not allowed");
                    // The ends of a scale have nothing beyond them, and the planned value is inside however narrow the tolerance.
                    var isBetween = (step == 0 || expectation.Allows(scale.ValueAtStep(step - 1))) && (step == scale.Steps - 1 || expectation.Allows(scale.ValueAtStep(step + 1)));
                    Assert.True(isBetween || step == expectation.Planned.Step, $"{setting.Path}: step {step} is inside and at the edge of what is allowed");
                }
            }
        }

        Assert.True(inside > 1000 && outer > 100, $"{inside} steps inside, {outer} allowed beside them");
    }
}
